// SPDX-License-Identifier: Apache-2.0
/// Turned, mirrored, squeezed, interlaced, deep: pictures come out as a person would watch
/// them.
#include "imaging/made_clip.h"
#include "imaging/mp4_surgery.h"
#include "imaging/picture_turn.h"
#include "imaging/scratch_folder.h"
#include "support/test.h"

#include <cmath>

using namespace swingloss;
using namespace swingloss::test;

namespace {

WriteOptions lossless_h264() {
  WriteOptions options;
  options.quality = 0;
  options.nominal_rate_per_s = 30.0;
  return options;
}

cv::Mat back(const cv::Mat& upright, const PictureTurn& turn) {
  cv::Mat out = upright.clone();
  if (turn.flip_x) cv::flip(out, out, 1);
  if (turn.flip_y) cv::flip(out, out, 0);
  if (turn.transpose) cv::transpose(out, out);
  return out;
}

}  // namespace

TEST_CASE("recorded rotation is applied", "[imaging]") {
  const ScratchFolder scratch;
  for (const char* ending : {".mp4", ".mov"}) {
    for (const int rotation_deg : {0, 90, 180, 270}) {
      CAPTURE(ending, rotation_deg);
      const std::string path = scratch.file(std::string("turned") + ending);
      WriteOptions options = lossless_h264();
      options.rotation_deg = rotation_deg;
      write_made(path, even_times(3, 30.0), options);
      ReadOptions colour;
      colour.colour = true;
      const ReadClip clip = read_all(path, colour);
      const bool lying = rotation_deg == 90 || rotation_deg == 270;
      CHECK(clip.info.rotation_deg == rotation_deg);
      CHECK_FALSE(clip.info.mirrored);
      CHECK(clip.info.width_px == (lying ? kMadeHeight_px : kMadeWidth_px));
      CHECK(clip.info.height_px == (lying ? kMadeWidth_px : kMadeHeight_px));
      for (const Frame& frame : clip.frames) {
        CHECK(frame.luma.cols == clip.info.width_px);
        CHECK(frame.bgr.size() == frame.luma.size());
        const cv::Mat stored = back(frame.luma, turn_from_rotation(rotation_deg));
        CHECK(counter_in(stored) == frame.index);
      }
    }
  }
}

TEST_CASE("a mirrored display matrix is applied", "[imaging]") {
  const ScratchFolder scratch;
  write_made(scratch.file("plain.mp4"), even_times(2, 30.0), lossless_h264());
  const std::string plain = bytes_of(scratch.file("plain.mp4"));
  for (int i = 0; i < 8; ++i) {
    const PictureTurn turn = {(i & 1) != 0, (i & 2) != 0, (i & 4) != 0};
    CAPTURE(turn.transpose, turn.flip_x, turn.flip_y);
    std::string bytes = plain;
    set_matrix(bytes, matrix_from_turn(turn));
    write_bytes(scratch.file("m.mp4"), bytes);
    const ReadClip clip = read_all(scratch.file("m.mp4"));
    REQUIRE(clip.frames.size() == 2);
    CHECK(counter_in(back(clip.frames[1].luma, turn)) == 1);
    CHECK(clip.info.mirrored == turn.mirrored());
    CHECK(clip.info.rotation_deg == turn.rotation_deg());
  }
}

TEST_CASE("a turn by an odd angle is remarked and left alone", "[imaging]") {
  const ScratchFolder scratch;
  write_made(scratch.file("a.mp4"), even_times(2, 30.0), lossless_h264());
  std::string bytes = bytes_of(scratch.file("a.mp4"));
  set_matrix(bytes, {56756, 32768, 0, -32768, 56756, 0, 0, 0, 1 << 30});  // 30 degrees
  write_bytes(scratch.file("a.mp4"), bytes);
  const ReadClip clip = read_all(scratch.file("a.mp4"));
  CHECK(has(clip.remarks, "odd-rotation"));
  CHECK(counter_in(clip.frames.front().luma) == 0);
}

TEST_CASE("non-square pixels are made square", "[imaging]") {
  const ScratchFolder scratch;
  // 64/45 and 12/11: the widths of PAL pixels (ITU-R BT.601 sampling); 1/2 and 3/4: anamorphic.
  for (const double ratio : {64.0 / 45.0, 12.0 / 11.0, 4.0 / 3.0, 0.75, 0.5}) {
    for (const char* name : {"a.mp4", "a.mkv"}) {
      CAPTURE(ratio, name);
      WriteOptions options = lossless_h264();
      options.pixel_aspect_ratio = ratio;
      write_made(scratch.file(name), even_times(12, 30.0), options);
      const ReadClip clip = read_all(scratch.file(name));
      CHECK_THAT(clip.info.pixel_aspect_ratio, to_rounding(ratio, 4));
      const double wider = std::max(1.0, ratio), higher = std::max(1.0, 1.0 / ratio);
      CHECK(clip.info.width_px == std::lrint(kMadeWidth_px * wider));
      CHECK(clip.info.height_px == std::lrint(kMadeHeight_px * higher));
      for (const Frame& frame : clip.frames) {
        REQUIRE(frame.luma.cols == clip.info.width_px);
        REQUIRE(frame.luma.rows == clip.info.height_px);
        const cv::Point2d dot = dot_place(frame.index), found = dot_in(frame.luma);
        // Pixel centres: (x + 1/2) ratio - 1/2. Error as for the dot in codec_test.cc, in
        // larger pixels, plus the interpolation's weights of 1/2048 over a width of some 12 px.
        CHECK_THAT(found.x, to_truncation((dot.x + 0.5) * wider - 0.5, 0.02 * wider + 0.01));
        CHECK_THAT(found.y, to_truncation((dot.y + 0.5) * higher - 0.5, 0.02 * higher + 0.01));
      }
    }
  }
}

TEST_CASE("squaring comes before turning", "[imaging]") {
  const ScratchFolder scratch;
  WriteOptions options = lossless_h264();
  options.pixel_aspect_ratio = 2.0;
  options.rotation_deg = 90;
  write_made(scratch.file("a.mp4"), even_times(2, 30.0), options);
  const ReadClip clip = read_all(scratch.file("a.mp4"));
  CHECK(clip.info.width_px == kMadeHeight_px);
  CHECK(clip.info.height_px == 2 * kMadeWidth_px);
}

TEST_CASE("of interlaced pictures the upper field is shown, and that is remarked",
          "[imaging]") {
  const ScratchFolder scratch;
  WriteOptions options = lossless_h264();
  options.interlaced = true;
  for (const bool turned : {false, true}) {
    options.rotation_deg = turned ? 90 : 0;
    const auto writer = create_clip(scratch.file("a.mp4"), options);
    const cv::Mat of_two_moments = woven(made_picture(5), made_picture(100));
    for (int k = 0; k < 5; ++k) writer->add(of_two_moments, k / 30.0);
    writer->finish();
    const ReadClip clip = read_all(scratch.file("a.mp4"));
    REQUIRE(clip.frames.size() == 5);
    CHECK(clip.info.interlaced);
    CHECK(has(clip.remarks, "interlaced"));
    const cv::Mat stored = back(clip.frames[4].luma, turn_from_rotation(turned ? 90 : 0));
    CHECK(counter_in(stored) == 5);
    // A soft round dot of several pixels is nearly as smooth as the cubic.
    CHECK_THAT(cv::norm(dot_in(stored) - dot_place(5)), to_truncation(0.0, 0.05));
  }
}
