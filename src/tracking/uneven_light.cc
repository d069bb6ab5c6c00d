// SPDX-License-Identifier: Apache-2.0
#include "tracking/uneven_light.h"

#include "core/number_text.h"
#include "tracking/camera_curve.h"
#include "tracking/changed_clip.h"
#include "tracking/even_light.h"
#include "tracking/shrunk_picture.h"

#include <string>

namespace swingloss {
namespace {

/// In 19 rendered clips in an even light the median change from picture to picture was 0.001 at
/// most, the greatest since the first one 0.02: a passing arm.
constexpr double kFlickers = 0.02, kChanges = 0.05;

Remark light_remark(const char* code, double part, const char* when, const char* better) {
  return {code,
          Severity::Note,
          "The light changes by " + significant_text(100.0 * part, 2) + " % " + when +
              ". They were brought to one brightness. " + better + " gives surer angles."};
}

}  // namespace

std::optional<Remark> uneven_light(const ClipSurvey& survey) {
  if (survey.flicker > kFlickers) {
    return light_remark("light-flickers",
                        survey.flicker,
                        "from picture to picture",
                        "Daylight or a lamp that does not flicker");
  }
  if (survey.light_range > kChanges) {
    return light_remark("light-changes",
                        survey.light_range,
                        "from the first picture to others",
                        "A camera whose exposure is locked");
  }
  return std::nullopt;
}

ClipOpener evened(const ClipOpener& open, const ClipSurvey& survey) {
  cv::Mat usual;
  survey.small_background.convertTo(usual, CV_8U);
  const double black_level = curve_of(survey.info).black_level;
  return changed_clip(open, [usual, black_level, shrink = survey.shrink](Frame& frame) {
    even_strips(usual, shrunk_picture(frame.luma, shrink), black_level, frame.luma);
    frame.bgr.release();
  });
}

}  // namespace swingloss
