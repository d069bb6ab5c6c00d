// SPDX-License-Identifier: Apache-2.0
/// Clips from outside, where they lie beside the checkout.
#include "imaging/made_clip.h"
#include "support/shared_file.h"
#include "support/test.h"

using namespace swingloss;
using namespace swingloss::test;

TEST_CASE("a rendered clip with uneven stamps is read with its own times", "[imaging][truth]") {
  const std::string path = shared_file("footage/dots30/clip.mp4");
  if (path.empty()) return;
  const ReadClip clip = read_all(path);
  // 75 of 78 frames at 30/s were kept: truth.json beside it, "kept_frames" without 9, 38
  // and 42.
  REQUIRE(clip.frames.size() == 75);
  CHECK(clip.info.width_px == 960);
  CHECK(clip.info.height_px == 540);
  CHECK(has(clip.remarks, "uneven-time"));
  int source = 0;
  for (const Frame& frame : clip.frames) {
    while (source == 9 || source == 38 || source == 42) ++source;
    // Stamps scatter by up to 3 ms about their frame's time and are whole milliseconds.
    CHECK_THAT(frame.t_s, to_truncation(source / 30.0, 3.5e-3));
    ++source;
  }
}

TEST_CASE("a camera's clip is read to its end", "[imaging][truth]") {
  const std::string path = shared_file("real/rod-clip/clip.mp4");
  if (path.empty()) return;
  const auto source = open_clip(path);
  int count = 0;
  double last_s = -1.0;
  while (const auto frame = source->next()) {
    CHECK(frame->t_s > last_s);
    last_s = frame->t_s;
    ++count;
  }
  // PROVENANCE.txt beside it: MPEG-4, 432 x 768, 30.006 frames/s, 1435 frames, 47.8 s.
  CHECK(count == 1435);
  CHECK(source->info().width_px == 432);
  CHECK(source->info().height_px == 768);
  CHECK(source->info().codec == "mpeg4");
  CHECK_THAT(last_s, to_truncation(1434 / 30.006, 0.5 / 30.0));
  CHECK(source->remarks().empty());
}
