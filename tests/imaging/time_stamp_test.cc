// SPDX-License-Identifier: Apache-2.0
/// Edit lists, stamps that do not grow, slow motion.
#include "imaging/made_clip.h"
#include "imaging/mp4_surgery.h"
#include "imaging/scratch_folder.h"
#include "support/test.h"

using namespace swingloss;
using namespace swingloss::test;

namespace {

constexpr std::uint32_t kUnits_per_s = 90'000;

std::string plain(const ScratchFolder& scratch, const char* codec, const char* name) {
  WriteOptions options;
  options.codec = codec;
  options.nominal_rate_per_s = 30.0;
  options.time_base_per_s = static_cast<int>(kUnits_per_s);
  write_made(scratch.file(name), even_times(20, 30.0), options);
  return bytes_of(scratch.file(name));
}

}  // namespace

TEST_CASE("pictures before and after the edit are not shown", "[imaging]") {
  const ScratchFolder scratch;
  for (const char* codec : {"h264", "hevc", "mjpeg"}) {
    CAPTURE(codec);
    std::string bytes = plain(scratch, codec, "a.mp4");
    // From picture 7 on for ten pictures: needs those before it decoded, and none of them
    // shown.
    set_edit(bytes, 333, edit_start(bytes) + 7 * kUnits_per_s / 30);
    write_bytes(scratch.file("a.mp4"), bytes);
    for (const int threads : {1, 0}) {
      ReadOptions options;
      options.threads = threads;
      const ReadClip clip = read_all(scratch.file("a.mp4"), options);
      REQUIRE(clip.frames.size() == 10);
      CHECK(clip.info.expected_frames == 10);
      for (const Frame& frame : clip.frames) {
        CHECK(counter_in(frame.luma) == frame.index + 7);
        CHECK_THAT(frame.t_s, to_truncation(frame.index / 30.0, 0.5001 / kUnits_per_s));
      }
      CHECK_FALSE(has(clip.remarks, "clip-cut-off"));
      CHECK_FALSE(has(clip.remarks, "clip-damaged"));
    }
  }
}

TEST_CASE("time stamps that do not grow give the nominal rate and a remark", "[imaging]") {
  const ScratchFolder scratch;
  std::string bytes = plain(scratch, "mjpeg", "a.mov");
  set_first_duration(bytes, 0);  // one run for all pictures: all have the same time
  write_bytes(scratch.file("a.mov"), bytes);
  const ReadClip clip = read_all(scratch.file("a.mov"));
  REQUIRE(clip.frames.size() == 20);
  CHECK(clip.info.time_source == TimeSource::NominalRate);
  CHECK(has(clip.remarks, "nominal-time"));
  for (std::size_t i = 1; i < clip.frames.size(); ++i) {
    CHECK(clip.frames[i].t_s > clip.frames[i - 1].t_s);
  }
}

TEST_CASE("a capture rate beside slow motion is read", "[imaging]") {
  const ScratchFolder scratch;
  std::string bytes = plain(scratch, "h264", "a.mov");
  add_capture_rate(bytes, 240.0F);
  write_bytes(scratch.file("a.mov"), bytes);
  const ReadClip clip = read_all(scratch.file("a.mov"));
  CHECK(clip.frames.size() == 20);
  // 240 is exact in the file's single precision and in its text.
  CHECK_THAT(clip.info.capture_rate_per_s, to_rounding(240.0, 0));
  CHECK(has(clip.remarks, "slow-motion"));
}
