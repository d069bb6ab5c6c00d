// SPDX-License-Identifier: Apache-2.0
#include "tracking/track_arm.h"

#include "core/number_text.h"
#include "tracking/arm_doubts.h"
#include "tracking/clip_faults.h"
#include "tracking/clip_survey.h"
#include "tracking/coarse_arm.h"
#include "tracking/follow_arm.h"
#include "tracking/mixed_pictures.h"
#include "tracking/repeated_pictures.h"
#include "tracking/steady_clip.h"
#include "tracking/uneven_light.h"
#include "tracking/working_start.h"

#include <memory>
#include <utility>
#include <vector>

namespace swingloss {
namespace {

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

/// Follows the arm through a clip whose camera stands still.
Result<ArmTrack> track_steady(const ClipOpener& open,
                              ClipSurvey survey,
                              const TrackOptions& options) {
  if (const std::optional<Failure> moved = camera_moved(survey)) return *moved;
  const Result<CoarseArm> found = find_coarse_arm(open, survey);
  if (!found.ok()) return found.failure();
  const CoarseArm& coarse = found.value();
  survey.small.clear();  // those of a long clip take as much room as the crops
  if (const std::optional<Failure> left =
          arm_leaves_picture(survey.info, coarse.angles, coarse.view))
    return *left;
  const WorkingStart start = working_start(survey.info, coarse.angles, coarse.view);
  Result<ArmTrack> followed = follow_arm(open, survey, start, options);
  if (!followed.ok()) return followed;
  ArmTrack out = std::move(followed).value();
  enlarge(start.shrink, out);
  if (const auto partly = arm_partly_outside(survey.info, coarse.angles, coarse.view))
    out.remarks.push_back(*partly);
  out.clip = survey.info;
  out.frames = int(survey.t_s.size());
  out.remarks.insert(out.remarks.begin(), survey.remarks.begin(), survey.remarks.end());
  if (const std::optional<Failure> missed = mode_missed(options.mode, out)) return *missed;
  return out;
}

/// What steadying leaves, and that it was done.
void note_shake(const CameraShake& shake, ArmTrack& track) {
  add_shake_doubts(shake, track.arm_length_px, track.angles);
  track.remarks.push_back(
      {kCameraSteadied,
       Severity::Note,
       "The camera did not stand still: the pictures lie up to " +
           significant_text(shake.farthest_px, 2) +
           " px apart. They were put in place by what stands still in them. "
           "A tripod gives surer angles."});
}

/// Follows the arm through a clip in an even light.
Result<ArmTrack> track_in_light(const ClipOpener& open,
                                ClipSurvey survey,
                                const TrackOptions& options) {
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

Result<ArmTrack> remarked(Result<ArmTrack> track, const Remark& remark) {
  if (!track.ok()) return track;
  ArmTrack arm = std::move(track).value();
  arm.remarks.push_back(remark);
  return arm;
}

/// Follows the arm through a clip each of whose pictures shows one moment.
Result<ArmTrack> track_moments(const ClipOpener& open,
                               ClipSurvey survey,
                               const TrackOptions& options) {
  const std::optional<Remark> uneven = uneven_light(survey);
  if (!uneven) return track_in_light(open, std::move(survey), options);
  const ClipOpener even = evened(open, survey);
  return remarked(track_in_light(even, survey_clip(even), options), *uneven);
}

/// Follows the arm through a clip without repeated pictures.
Result<ArmTrack> track_distinct(const ClipOpener& open,
                                ClipSurvey survey,
                                const TrackOptions& options) {
  const std::optional<Remark> mixed = mixed_pictures(survey);
  if (!mixed) return track_moments(open, std::move(survey), options);
  const ClipOpener moments = unmixed(open);
  return remarked(track_moments(moments, survey_clip(moments), options), *mixed);
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
  const std::vector<int> repeated = repeated_pictures(survey);
  if (repeated.empty()) return track_distinct(open, std::move(survey), options);
  const ClipOpener distinct = without_pictures(open, repeated);
  Result<ArmTrack> track = track_distinct(distinct, survey_clip(distinct), options);
  if (!track.ok()) return track;
  ArmTrack arm = std::move(track).value();
  const auto frames = int(survey.t_s.size());
  const std::vector<int> numbers = numbers_of_kept(frames, repeated);
  for (AngleSample& sample : arm.angles.samples)
    sample.frame = numbers[std::size_t(sample.frame)];
  arm.frames = frames;
  arm.remarks.push_back(repeated_remark(repeated.size(), survey.t_s.size()));
  return arm;
}

}  // namespace swingloss
