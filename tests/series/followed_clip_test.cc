// SPDX-License-Identifier: Apache-2.0
#include "series/followed_clip.h"

#include "render/render_swing.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <opencv2/core.hpp>

using namespace swingloss;

namespace {

/// Mean difference between the first picture and the later ones.
double unrest_of(FrameSource& source) {
  cv::Mat first;
  double sum = 0.0;
  int count = 0;
  while (const auto frame = source.next()) {
    if (first.empty()) first = frame->luma.clone();
    cv::Mat difference;
    cv::absdiff(first, frame->luma, difference);
    sum += cv::mean(difference)[0];
    ++count;
  }
  return sum / count;
}

}  // namespace

TEST_CASE("a clip that was steadied when it was measured is shown steadied", "[series]") {
  const test::TempFolder folder;
  RenderScene scene;
  scene.camera.width_px = 480;
  scene.camera.height_px = 270;
  scene.length_s = 0.8;
  scene.faults.no_pendulum = true;
  scene.faults.shake_deg = 0.3;
  const std::string clip = folder / "shaken.mp4";
  (void)render_swing(scene, clip);
  const double shaken = unrest_of(*followed_clip(clip, {})());
  const auto open = followed_clip(clip, {true});
  const double steady = unrest_of(*open());
  CHECK(steady < 0.6 * shaken);
  CHECK(unrest_of(*open()) == steady);
}

TEST_CASE("a record says what was done to its clip's pictures", "[series]") {
  const auto by_remark = [](const char* code) {
    SwingRecord record;
    record.arm.remarks.push_back({code, Severity::Note, "Said."});
    return how_followed(record);
  };
  CHECK_FALSE(how_followed({}).steadied);
  CHECK(how_followed({}).lines == Lines::AsMarked);
  CHECK(by_remark("camera-steadied").steadied);
  CHECK(by_remark("interlaced").lines == Lines::AsMarked);
  CHECK(by_remark("interlaced-unmarked").lines == Lines::UpperField);
  CHECK(by_remark("not-interlaced").lines == Lines::All);
}
