// SPDX-License-Identifier: Apache-2.0
/// \file light_course.h
/// How bright the pictures of a clip are: the room's light, an exposure that drifts, a lamp
/// that flickers with the mains.
#pragma once

#include "render/exposure.h"
#include "render/render_swing.h"

#include <vector>

namespace swingloss::render {

/// Factors on linear light, one a row of the picture from the top.
using RowGains = std::vector<float>;

/// Brightness over one clip. Flicker is sinusoidal, so that its mean over an exposure has a
/// closed form: the amplitude times sin(x) / x, x = pi times the periods within the exposure.
class LightCourse {
 public:
  /// \param end_s of the clip, where the drift is complete; > 0
  LightCourse(const RenderScene& scene, double end_s);

  /// All pictures and rows are equally bright.
  [[nodiscard]] bool steady() const;
  /// \param rows of the picture, >= 1
  [[nodiscard]] RowGains over(const Shutter& shutter, int rows) const;

 private:
  RenderFaults faults_;
  double end_s_;
};

}  // namespace swingloss::render
