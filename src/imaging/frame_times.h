// SPDX-License-Identifier: Apache-2.0
/// \file frame_times.h
/// When each picture was shown: from time stamps where they can be believed.
#pragma once

#include "core/remark.h"
#include "imaging/frame_source.h"

#include <optional>
#include <vector>

namespace swingloss {

/// Gives each picture its time, one after the other, starting at 0 and always growing.
///
/// From time stamps: the difference to the first one. A picture whose stamp is missing comes
/// one usual interval after its predecessor, one whose stamp does not grow half an interval
/// after; both are counted. At the nominal rate: evenly.
class FrameTimes {
 public:
  /// \param usual_interval_s  > 0; the middle one of the clip, or 1 / rate
  FrameTimes(TimeSource source, double usual_interval_s);

  /// \param stamp_s  the container's time of this picture, any zero; nothing when it has none
  double next(std::optional<double> stamp_s);

  [[nodiscard]] int repaired() const { return repaired_; }
  /// "time-stamps-repaired" and "uneven-time", as far as they apply to what was seen so far.
  [[nodiscard]] Remarks remarks() const;

 private:
  double from_stamp(std::optional<double> stamp_s);

  TimeSource source_;
  double usual_interval_s_;
  double first_stamp_s_ = 0.0, last_s_ = 0.0;
  int count_ = 0, repaired_ = 0;
  std::vector<double> intervals_s_;
};

}  // namespace swingloss
