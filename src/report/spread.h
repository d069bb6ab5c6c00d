// SPDX-License-Identifier: Apache-2.0
/// \file spread.h
/// Points beside one another, so that none hides another. Internal to report.
#pragma once

#include <vector>

namespace swingloss {

/// Finds places across the axis for the points of one row or column. They mean nothing.
class Spread {
 public:
  /// \param width  of a point along the axis, in the axis's unit
  /// \param band   half the room across, in the unit wanted back
  Spread(double width, double band) : width_(width), band_(band) {}

  /// Distance off the middle for something that reaches from `low` to `high` along the axis.
  [[nodiscard]] double place(double low, double high);

 private:
  struct Taken {
    double low, high, step;
  };
  [[nodiscard]] double overlap_at(double step, double low, double high) const;

  double width_, band_;
  std::vector<Taken> taken_;
};

}  // namespace swingloss
