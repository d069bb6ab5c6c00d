// SPDX-License-Identifier: Apache-2.0
#include "tracking/refine_arm.h"

#include "tracking/follow_frames.h"
#include "tracking/lead_frames.h"
#include "tracking/round_dots.h"
#include "tracking/tilt_start.h"

#include <algorithm>
#include <iterator>
#include <optional>
#include <utility>

namespace swingloss {
namespace {

/// On the leading frames from square, after the soft ones: the tilt is free, and its sign open.
constexpr Stage kFromSquare[] = {
    {1.2, 20.0, 2.0, true, false, true, false, false, true},
    {0.6, 12.0, 1.0, true, true, false, true, true, true},
    {0.0, 12.0, 0.6, true, true, true, false, true, true},
};
/// From what some of them show in sharp pictures.
constexpr Stage kFromTry[] = {{0.0, 12.0, 0.6, true, true, true, true, true, true}};
/// In either case, then.
constexpr Stage kSettling[] = {
    {0.0, 10.0, 0.3, true, true, false, false, false, false},
    {0.0, 10.0, 0.3, true, true, false, false, false, false},
};
/// On all frames, from the view and look of the leading ones.
constexpr Stage kLastStage = {0.0, 10.0, 0.3, true, true, false, false, true, false};

std::vector<Stage> leading_stages(bool tried) {
  std::vector<Stage> stages;
  if (!tried) {
    stages.assign(kSoftStages.begin(), kSoftStages.end());
    stages.insert(stages.end(), std::begin(kFromSquare), std::end(kFromSquare));
  } else {
    stages.assign(std::begin(kFromTry), std::end(kFromTry));
  }
  stages.insert(stages.end(), std::begin(kSettling), std::end(kSettling));
  return stages;
}

/// From some frames to all: their directions stand, the others are followed.
/// \param lead  which of the crops the arm's directions are of
void take_in_all(const std::vector<ArmCrop>& crops,
                 const std::vector<std::size_t>& lead,
                 const cv::Mat& background,
                 RefinedArm& arm) {
  std::vector<double> theta_rad;
  theta_rad.reserve(crops.size());
  for (const ArmCrop& crop : crops) theta_rad.push_back(crop.theta_rad);
  for (std::size_t i = 0; i < lead.size(); ++i) theta_rad[lead[i]] = arm.fit.theta_rad[i];
  std::vector<std::size_t> others;
  for (std::size_t k = 0; k < crops.size(); ++k) {
    if (!std::binary_search(lead.begin(), lead.end(), k)) others.push_back(k);
  }
  const cv::Mat behind = light_behind(background, 0.0, arm.body.curve);
  RegistrationOptions options;
  options.exposure_s = arm.exposure_s;
  arm.fit.theta_rad =
      follow_frames({crops, behind, arm.body, arm.fit.view, theta_rad, options}, others);
}

}  // namespace

Result<RefinedArm> refine_arm(const std::vector<ArmCrop>& crops,
                              const cv::Mat& background,
                              const SwingView& start,
                              const BodyExtent& extent,
                              const RefineOptions& options) {
  expects(!crops.empty(), "refine_arm: no crops");
  const std::vector<std::size_t> lead = lead_frames(crops);
  const std::vector<ArmCrop> leading = only(crops, lead);
  RefinedArm arm;
  arm.body = empty_template(extent, options.curve);
  arm.fit.view = start;
  arm.find_readout = options.find_readout;
  for (const ArmCrop& crop : leading) arm.fit.theta_rad.push_back(crop.theta_rad);
  std::optional<ArmTag> tag;
  if (options.use_tag) tag = find_arm_tag(crops);
  if (tag) arm.tag = only(*tag, lead);
  const Result<std::optional<TiltedStart>> tried = tilt_start(leading, background, arm);
  if (!tried.ok()) return tried.failure();
  if (tried.value()) {
    const std::optional<ArmTag> leading_tag = std::move(arm.tag);
    arm = tried.value()->arm;
    arm.tag = leading_tag;
    take_in_all(leading, tried.value()->frames, background, arm);
  }
  for (const Stage& stage : leading_stages(tried.value().has_value())) {
    if (const auto failure = run_stage(stage, leading, background, start.focal_px, arm))
      return *failure;
    if (stage.dots && options.use_dots) {
      arm.body.dots = find_round_dots(arm.body);
      arm.body.map_cells();
    }
  }
  arm.tag = tag;
  take_in_all(crops, lead, background, arm);
  if (const auto failure = run_stage(kLastStage, crops, background, start.focal_px, arm))
    return *failure;
  return arm;
}

}  // namespace swingloss
