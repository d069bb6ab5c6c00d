// SPDX-License-Identifier: Apache-2.0
/// \file changed_pictures_test.cc
/// Films whose pictures an editing program mixed or repeated.
#include "render/render_swing.h"
#include "support/has_remark.h"
#include "support/temp_folder.h"
#include "support/test.h"
#include "tracking/changed_clip.h"
#include "tracking/mixed_pictures.h"
#include "tracking/repeated_pictures.h"
#include "tracking/track_arm.h"
#include "tracking/track_errors.h"

#include <vector>

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// A rendered clip, each of whose pictures is changed before it is followed.
struct Changed {
  explicit Changed(const FrameChange& change) {
    const TempFolder folder;
    RenderScene scene;
    scene.absorbed_J = 1.0;
    scene.length_s = 2.0;
    const std::string path = folder / "clip.mp4";
    truth = render_swing(scene, path);
    const ClipOpener open = changed_clip([path] { return open_clip(path); }, change);
    survey = survey_clip(open);
    track = track_arm(open);
  }
  RenderTruth truth;
  ClipSurvey survey;
  Result<ArmTrack> track = Failure{};
};

/// Each picture the mean of itself and the one before.
struct Mixing {
  cv::Mat before;
  void operator()(Frame& frame) {
    const cv::Mat own = frame.luma;
    if (!before.empty()) cv::addWeighted(own, 0.5, before, 0.5, 0.0, frame.luma = cv::Mat());
    before = own;
  }
};

/// Every fourth picture is the one before once more.
struct Repeating {
  cv::Mat before;
  void operator()(Frame& frame) {
    if (frame.index % 4 == 3) frame.luma = before;
    before = frame.luma;
  }
};

/// A survey of which only the motion is told, all frames kept.
ClipSurvey moving(std::vector<double> motion) {
  ClipSurvey survey;
  for (int k = 0; k < int(motion.size()); ++k) survey.frames.push_back(k);
  survey.motion = std::move(motion);
  return survey;
}

}  // namespace

TEST_CASE("pictures that mix two moments are taken apart", "[tracking][synthetic]") {
  const Changed mixed{Mixing{}};
  CHECK(mixed_pictures(mixed.survey));
  REQUIRE(mixed.track.ok());
  CHECK(has_remark(mixed.track.value().remarks, "pictures-mixed"));
  // Half seen twice, the arm would be half of 7 degrees off in the fastest pictures.
  CHECK_THAT(two_thirds_in_u(mixed.track.value().angles, mixed.truth.frame_angle_deg, 1.0),
             kHonest);
}

TEST_CASE("pictures that show the one before once more are left out", "[tracking][synthetic]") {
  const Changed repeated{Repeating{}};
  CHECK_FALSE(mixed_pictures(repeated.survey));
  REQUIRE(repeated.track.ok());
  const ArmTrack& track = repeated.track.value();
  CHECK(has_remark(track.remarks, "pictures-repeated"));
  CHECK(track.frames == int(repeated.truth.frame_angle_deg.size()));
  // The frames keep their own numbers; those of the repeats would be 7 degrees off.
  CHECK_THAT(two_thirds_in_u(track.angles, repeated.truth.frame_angle_deg, 1.0), kHonest);
}

TEST_CASE("a repeat is a picture without motion amid motion", "[tracking]") {
  // Four repeats in a fall; then the arm rests, which is no repeat.
  const ClipSurvey film = moving({0,    0,    0.01, 0.02, 0,    0.03, 0.04, 0, 0.05, 0.05, 0,
                                  0.05, 0.05, 0,    0.05, 0.05, 0,    0,    0, 0,    0,    0});
  CHECK(repeated_pictures(film) == std::vector<int>{4, 7, 10, 13});
  CHECK(numbers_of_kept(12, repeated_pictures(film)) ==
        std::vector<int>{0, 1, 2, 3, 5, 6, 8, 9, 11});
  // Thrown back, the arm is once where it was a picture before.
  std::vector<double> thrown_back(40, 0.05);
  thrown_back[20] = 0.0;
  CHECK(repeated_pictures(moving(thrown_back)).empty());
}
