// SPDX-License-Identifier: Apache-2.0
#include "tracking/track_arm.h"

#include "core/angle.h"
#include "core/median.h"
#include "core/number_text.h"
#include "tracking/arm_crops.h"
#include "tracking/arm_doubts.h"
#include "tracking/axle_search.h"
#include "tracking/clip_faults.h"
#include "tracking/clip_survey.h"
#include "tracking/coarse_angles.h"
#include "tracking/coarse_follow.h"
#include "tracking/frame_course.h"
#include "tracking/lively_frames.h"
#include "tracking/picture_zero.h"
#include "tracking/refine_arm.h"
#include "tracking/shrunk_picture.h"
#include "tracking/steady_clip.h"
#include "tracking/working_start.h"

#include <algorithm>
#include <cmath>
#include <cstdio>

namespace swingloss {
namespace {

/// Phones see about 56 degrees across the long side of a video picture.
constexpr double kFocalOverLongSide = 0.95;
/// Below this part of the moving pixels the "arm" is a guess.
constexpr double kLeastQuality = 0.15;
constexpr double kPulled_px = 1.5;
constexpr double kLeastSwept_rad = 0.08;
/// An arm that stays near one direction bends alike in all frames of one speed.
constexpr double kTellsReadout_rad = 0.8;

/// Best axle with its coarse angles.
struct CoarseArm {
  cv::Point2d axle_small_px;
  CoarseAngles angles;
};

std::string percent(double part) {
  char text[32];
  std::snprintf(text, sizeof text, "%.0f %%", 100.0 * part);
  return text;
}

Result<CoarseArm> find_coarse_arm(const ClipSurvey& survey) {
  const std::vector<AxleCandidate> candidates = find_axle_candidates(survey, 3);
  if (candidates.empty()) {
    return Failure{"no-pendulum",
                   "nothing in the clip turns about one point",
                   "film the whole swing, camera still, arm in sight from release to the last "
                   "turning point"};
  }
  std::optional<CoarseArm> best;
  for (const AxleCandidate& candidate : candidates) {
    // A weak candidate is only worth a look when the strong one explains little.
    if (best &&
        (best->angles.quality > 0.4 || candidate.support < 0.2 * candidates.front().support))
      break;
    CoarseArm arm{candidate.small_px, find_coarse_angles(survey, candidate.small_px)};
    if (!best || arm.angles.quality * arm.angles.arm_length_px >
                     best->angles.quality * best->angles.arm_length_px)
      best = arm;
  }
  if (best->angles.quality < kLeastQuality || best->angles.swept_rad < kLeastSwept_rad ||
      best->angles.arm_length_px < 10.0 * survey.shrink) {
    return Failure{
        "no-pendulum",
        "no arm that turns about one axle was found: the best guess explains " +
            percent(best->angles.quality) + " of what moves",
        "film the whole swing with nothing else moving, or put two round dots on the arm"};
  }
  return *best;
}

BodyExtent extent_of(const CoarseAngles& angles) {
  const double room = 6.0 + 0.03 * angles.arm_length_px;
  return {angles.arm_length_px + room,
          angles.arm_behind_px + room,
          angles.arm_half_width_px + room};
}

SwingView start_view(const ClipSurvey& survey, const Eigen::Vector2d& axle_px) {
  SwingView view;
  view.axle_px = axle_px;
  view.focal_px = kFocalOverLongSide * std::max(survey.info.width_px, survey.info.height_px);
  view.principal_px = {0.5 * (survey.info.width_px - 1), 0.5 * (survey.info.height_px - 1)};
  return view;
}

/// Which frames show the arm. Those whose pixels agree much worse with it than usual show
/// something else: a hand, a cut, the arm outside the picture. An arm before a sheet of paper
/// agrees worse too, yet stays on its neighbours' course.
/// \param typical  median of the frames' scores
std::vector<bool> shows_arm(const RefinedArm& arm,
                            const std::vector<ArmCrop>& crops,
                            double typical) {
  constexpr double kUsual = 0.6, kLeast = 0.3;
  const double on_course_rad = Angle::from_deg(0.3).rad();
  std::vector<bool> usual(crops.size()), least(crops.size());
  for (std::size_t k = 0; k < crops.size(); ++k) {
    const bool is_sure = arm.fit.u_theta_rad[k] < Angle::from_deg(2.0).rad();
    usual[k] = is_sure && arm.frame_score[k] > kUsual * typical;
    least[k] = is_sure && arm.frame_score[k] > kLeast * typical;
  }
  std::vector<bool> shows = usual;
  for (std::size_t k = 0; k < crops.size(); ++k) {
    if (usual[k] || !least[k]) continue;
    const std::optional<double> course = course_rad(crops, arm.fit.theta_rad, least, k);
    shows[k] = course && std::abs(*course - arm.fit.theta_rad[k]) < on_course_rad;
  }
  return shows;
}

/// \param turn_rad  added to every direction
void fill_track(const RefinedArm& arm,
                const std::vector<ArmCrop>& crops,
                double turn_rad,
                ArmTrack& out) {
  const double typical = median_of(arm.frame_score);
  const std::vector<bool> shows = shows_arm(arm, crops, typical);
  std::vector<Eigen::Index> kept;
  for (std::size_t k = 0; k < crops.size(); ++k) {
    if (!shows[k]) continue;
    kept.push_back(Eigen::Index(k));
    // Where the frame agrees less than usual (arm before its stand, its shadow close beside
    // it), part of the look pulls one way: a fraction of a pixel at the arm's end.
    const double pulled_rad = kPulled_px / arm.body.extent.ahead_px *
                              std::max(0.0, 1.0 - arm.frame_score[k] / typical);
    out.angles.samples.push_back({crops[k].t_s,
                                  arm.fit.theta_rad[k] + turn_rad,
                                  std::hypot(arm.fit.u_theta_rad[k], pulled_rad),
                                  crops[k].frame});
    out.pixel_limit_rad.push_back(arm.pixel_limit_rad[k]);
  }
  for (Eigen::Index j = 0; j < arm.fit.theta_doubt_rad.cols(); ++j) {
    SharedDoubt doubt{"view.geometry-" + std::to_string(j + 1),
                      Eigen::VectorXd(Eigen::Index(kept.size())),
                      {},
                      arm.fit.view_doubt.col(j)};
    for (std::size_t i = 0; i < kept.size(); ++i)
      doubt.shape_rad(Eigen::Index(i)) = arm.fit.theta_doubt_rad(kept[i], j);
    out.angles.doubts.push_back(doubt);
  }
  const std::size_t dropped = crops.size() - kept.size();
  if (dropped > 0) {
    out.remarks.push_back({"frames-left-out",
                           Severity::Note,
                           std::to_string(dropped) +
                               " frames do not show the arm as the others do (hand, cut, "
                               "or hidden) and were left out"});
  }
}

void choose_mode(const RefinedArm& arm, ArmTrack& out) {
  if (arm.tag) {
    out.mode = TrackMode::Sticker;
    out.why_mode = "tag " + std::to_string(arm.tag->id) + " was read on the arm in " +
                   std::to_string(arm.tag->frames) +
                   " frames; its corners and the arm's edges are followed together";
  } else if (arm.body.dots.size() >= 2) {
    out.mode = TrackMode::Dots;
    out.why_mode = std::to_string(arm.body.dots.size()) +
                   " round dots were found on the arm; they lead, the arm's edges help";
  } else {
    out.mode = TrackMode::Bare;
    out.why_mode = "no stickers were found on the arm; its own edges are followed";
  }
}

/// What was asked for must be there. \return nothing when it is
std::optional<Failure> mode_missed(const std::optional<TrackMode>& wanted,
                                   const ArmTrack& found) {
  if (wanted == TrackMode::Sticker && found.mode != TrackMode::Sticker) {
    return Failure{"no-tag",
                   "no tag of the dictionary DICT_4X4_50 was read on the moving arm",
                   "leave the mode to the program, or put a sharper or larger tag on the arm"};
  }
  if (wanted == TrackMode::Dots && found.mode != TrackMode::Dots) {
    return Failure{"no-dots",
                   "fewer than two round dots were found on the moving arm",
                   "leave the mode to the program, or put larger dots on the arm"};
  }
  return std::nullopt;
}

/// The arm followed, in the pixels of its start.
Result<ArmTrack> follow_arm(const ClipOpener& open,
                            const ClipSurvey& survey,
                            const WorkingStart& start,
                            const TrackOptions& options) {
  const BodyExtent extent = extent_of(start.angles);
  const cv::Point2d axle_px(start.view.axle_px.x(), start.view.axle_px.y());
  const cv::Mat background = full_background(open, survey, start.shrink);
  const std::vector<ArmCrop> crops =
      cut_arm_crops(open,
                    survey,
                    frames_to_refine(survey.t_s, start.angles.theta_rad),
                    {start.angles.theta_rad, start.shrink, axle_px, extent});
  if (crops.size() < 8) {
    return Failure{"too-few-frames",
                   "only " + std::to_string(crops.size()) + " frames show the arm",
                   "film at 30 frames/s or more"};
  }
  RefineOptions refine;
  refine.use_dots = !options.mode || options.mode == TrackMode::Dots;
  refine.use_tag = !options.mode || options.mode == TrackMode::Sticker;
  refine.find_readout = start.angles.swept_rad > kTellsReadout_rad;
  if (survey.info.video_range) refine.curve = CameraCurve::video_range();
  const Result<RefinedArm> refined = refine_arm(crops, background, start.view, extent, refine);
  if (!refined.ok()) return refined.failure();
  const RefinedArm& arm = refined.value();

  ArmTrack out;
  out.view = arm.fit.plane_view;
  out.tilt_u_rad =
      std::sqrt(0.5 * (arm.fit.view_covariance(2, 2) + arm.fit.view_covariance(3, 3)));
  out.view_rest = arm.fit.view_rest;
  out.u_readout_s = arm.fit.u_readout_s;
  out.arm_length_px = start.angles.arm_length_px;
  out.exposure_s = arm.exposure_s;
  const double turn_rad =
      turn_to_arm_rad(crops, start.view, out.view, arm.fit.theta_rad, out.arm_length_px);
  fill_track(arm, crops, turn_rad, out);
  add_look_doubts(extent.ahead_px, out.angles);
  if (!refine.find_readout)
    add_readout_doubts(
        {background.cols, background.rows}, out.view.axle_px, extent.ahead_px, out.angles);
  note_readout(out.view.readout_s, out.u_readout_s, out.remarks);
  choose_mode(arm, out);
  return out;
}

/// Follows the arm through a clip whose camera stands still.
Result<ArmTrack> track_steady(const ClipOpener& open,
                              ClipSurvey survey,
                              const TrackOptions& options) {
  if (const std::optional<Failure> moved = camera_moved(survey)) return *moved;
  const Result<CoarseArm> coarse = find_coarse_arm(survey);
  if (!coarse.ok()) return coarse.failure();
  const cv::Point2d& small_px = coarse.value().axle_small_px;
  const CoarseAngles angles = in_every_frame(open, survey, small_px, coarse.value().angles);
  survey.small.clear();  // those of a long clip take as much room as the crops
  const Eigen::Vector2d axle_px = rescaled({small_px.x, small_px.y}, survey.shrink);
  if (const std::optional<Failure> left =
          arm_leaves_picture(survey, angles, {axle_px.x(), axle_px.y()}))
    return *left;
  const WorkingStart start = working_start(survey.info, angles, start_view(survey, axle_px));
  Result<ArmTrack> followed = follow_arm(open, survey, start, options);
  if (!followed.ok()) return followed;
  ArmTrack out = std::move(followed).value();
  enlarge(start.shrink, out);
  out.clip = survey.info;
  out.frames = int(survey.t_s.size());
  out.remarks.insert(out.remarks.begin(), survey.remarks.begin(), survey.remarks.end());
  if (const std::optional<Failure> missed = mode_missed(options.mode, out)) return *missed;
  return out;
}

/// What steadying leaves, and that it was done.
void note_shake(const CameraShake& shake, ArmTrack& track) {
  add_shake_doubts(shake, track.arm_length_px, track.angles);
  const double most_px = *std::max_element(shake.shift_px.begin(), shake.shift_px.end());
  track.remarks.push_back(
      {kCameraSteadied,
       Severity::Note,
       "The camera did not stand still: the pictures lie up to " +
           significant_text(most_px, 2) +
           " px apart. They were put in place by what stands still in them. "
           "A tripod gives surer angles."});
}

}  // namespace

Result<ArmTrack> track_arm(const ClipOpener& open, const TrackOptions& options) {
  ClipSurvey survey = survey_clip(open);
  if (survey.t_s.size() < 2) {
    return Failure{"one-frame",
                   "the clip has " + std::to_string(survey.t_s.size()) +
                       " readable frame(s); a swing needs some tens",
                   "give the video of the swing, not a still"};
  }
  std::optional<CameraShake> shake;
  if (camera_shakes(survey)) shake = follow_camera(open);
  if (!shake) return track_steady(open, std::move(survey), options);
  const ClipOpener steady = steadied(open, std::make_shared<const CameraShake>(*shake));
  Result<ArmTrack> track = track_steady(steady, survey_clip(steady), options);
  if (!track.ok()) return track;
  ArmTrack arm = std::move(track).value();
  note_shake(*shake, arm);
  return arm;
}

}  // namespace swingloss
