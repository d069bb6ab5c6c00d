// SPDX-License-Identifier: Apache-2.0
#include "tracking/coarse_arm.h"

#include "core/number_text.h"
#include "tracking/axle_search.h"
#include "tracking/cast_shadow.h"
#include "tracking/coarse_follow.h"
#include "tracking/followed_corners.h"
#include "tracking/oblique_plane.h"
#include "tracking/shrunk_picture.h"
#include "tracking/squared_clip.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

namespace swingloss {
namespace {

/// Below this part of the moving pixels the "arm" is a guess.
constexpr double kLeastQuality = 0.15;
constexpr double kLeastSwept_rad = 0.08;
/// Above this part it turns for certain, be it the arm or its shadow.
constexpr double kClearQuality = 0.4;
/// Of the best supported axle's support: what another one must have to be looked at, where the
/// best one turns clearly and where not. Shadows had 0.1 to 0.8 of their arms' support, once
/// 1.2.
constexpr double kRival = 0.5, kWeak = 0.2;
/// Squared pictures are taken though the arm explains somewhat less of what moves there: its
/// shadow, which is drawn larger, counts against it.
constexpr double kAlmost = 0.7;

/// Axle with its angles, in the pictures looked at.
struct TurningArm {
  AxleCandidate axle;
  CoarseAngles angles;
};

/// Whether it can be an arm at all.
bool turns(const ClipSurvey& survey, const TurningArm& arm) {
  return arm.angles.quality >= kLeastQuality && arm.angles.swept_rad >= kLeastSwept_rad &&
         arm.angles.arm_length_px >= 10.0 * survey.shrink;
}

bool is_clear(const ClipSurvey& survey, const TurningArm& arm) {
  return turns(survey, arm) && arm.angles.quality > kClearQuality;
}

/// How probable a clear arm is against another one: the thing with more followed corners, and
/// not a shadow.
double standing(const ClipSurvey& survey, const TurningArm& arm) {
  constexpr double kNoShadow = 3.0;
  return std::log(arm.axle.support) -
         kNoShadow * std::log(shadow_likeness(survey, arm.axle.small_px, arm.angles));
}

/// Of an arm that explains little of what moves, as beside a person who walks by: what goes
/// straight turns about many places far off, which its bisectors hardly agree on.
double weight(const TurningArm& arm) {
  return arm.angles.quality * arm.axle.support / std::max(1.0, arm.axle.spread_px);
}

bool outdoes(const ClipSurvey& survey, const TurningArm& arm, const TurningArm& best) {
  if (turns(survey, arm) != turns(survey, best)) return turns(survey, arm);
  if (is_clear(survey, best))
    return is_clear(survey, arm) && standing(survey, arm) > standing(survey, best);
  return weight(arm) > weight(best);
}

Result<TurningArm> find_turning_arm(const ClipSurvey& survey,
                                    const std::vector<FollowedCorner>& corners) {
  const std::vector<AxleCandidate> candidates =
      find_axle_candidates(corners, survey.small.front().size(), 3);
  if (candidates.empty()) {
    return Failure{"no-pendulum",
                   "nothing in the clip turns about one point",
                   "film the whole swing, camera still, arm in sight from release to the last "
                   "turning point"};
  }
  std::optional<TurningArm> best;
  for (const AxleCandidate& candidate : candidates) {
    // A weak candidate is only worth a look when the strong one explains little.
    const double least = best && is_clear(survey, *best) ? kRival : kWeak;
    if (best && candidate.support < least * candidates.front().support) break;
    TurningArm arm{candidate, find_coarse_angles(survey, candidate.small_px)};
    if (!best || outdoes(survey, arm, *best)) best = std::move(arm);
  }
  if (!turns(survey, *best)) {
    return Failure{
        "no-pendulum",
        "no arm that turns about one axle was found: the best guess explains " +
            fixed_text(100.0 * best->angles.quality, 0) + " % of what moves",
        "film the whole swing with nothing else moving, or put two round dots on the arm"};
  }
  return *best;
}

Eigen::Vector2d full_px(const cv::Point2d& small_px, int shrink) {
  return rescaled({small_px.x, small_px.y}, shrink);
}

cv::Size full_size(const ClipSurvey& survey) {
  return {survey.info.width_px, survey.info.height_px};
}

/// As it is, in every frame.
CoarseArm seen_square(const ClipOpener& open, const ClipSurvey& survey, TurningArm arm) {
  CoarseArm out;
  out.view = central_view(full_size(survey));
  out.view.axle_px = full_px(arm.axle.small_px, survey.shrink);
  out.angles = in_every_frame(open, survey, arm.axle.small_px, std::move(arm.angles));
  return out;
}

Squaring squaring_of(const ClipSurvey& survey,
                     const Eigen::Vector2d& tilt_rad,
                     const std::vector<FollowedCorner>& corners) {
  std::vector<cv::Point2d> moving;
  for (const FollowedCorner& corner : corners) {
    const Eigen::Vector2d place = full_px(corner.from, survey.shrink);
    moving.emplace_back(place.x(), place.y());
  }
  return {central_view(full_size(survey), tilt_rad), moving, full_size(survey)};
}

/// In squared pictures. \return nothing where no arm turns there, or one that explains less
std::optional<CoarseArm> seen_oblique(const ClipOpener& open,
                                      const Squaring& squaring,
                                      double least_quality) {
  const ClipOpener squared_open = squared(open, squaring);
  SurveyOptions options;
  options.most_bytes /= 2;  // the other survey's pictures are still there
  const ClipSurvey survey = survey_clip(squared_open, options);
  Result<TurningArm> found = find_turning_arm(survey, follow_corners(survey));
  if (!found.ok() || found.value().angles.quality < least_quality) return std::nullopt;
  CoarseArm out = seen_square(squared_open, survey, std::move(found).value());
  const Eigen::Vector2d axle_px = out.view.axle_px;
  rescale_lengths(squaring.length_scale(axle_px), out.angles);
  out.view = squaring.view_about(axle_px);
  return out;
}

}  // namespace

Result<CoarseArm> find_coarse_arm(const ClipOpener& open, const ClipSurvey& survey) {
  const std::vector<FollowedCorner> corners = follow_corners(survey);
  Result<TurningArm> plain = find_turning_arm(survey, corners);
  double least_quality = plain.ok() ? kAlmost * plain.value().angles.quality : 0.0;
  std::optional<CoarseArm> oblique;
  for (const Eigen::Vector2d& tilt_rad :
       oblique_tilts_rad(corners, survey.small.front().size())) {
    std::optional<CoarseArm> arm =
        seen_oblique(open, squaring_of(survey, tilt_rad, corners), least_quality);
    if (!arm) continue;
    least_quality = arm->angles.quality;
    oblique = std::move(arm);
  }
  if (oblique) return *std::move(oblique);
  if (!plain.ok()) return plain.failure();
  return seen_square(open, survey, std::move(plain).value());
}

}  // namespace swingloss
