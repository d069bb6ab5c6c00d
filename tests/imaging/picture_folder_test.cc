// SPDX-License-Identifier: Apache-2.0
#include "imaging/picture_folder.h"

#include "core/input_error.h"
#include "imaging/made_clip.h"
#include "imaging/made_photo.h"
#include "imaging/scratch_folder.h"
#include "imaging/still.h"
#include "support/test.h"

#include <opencv2/imgcodecs.hpp>

using namespace swingloss;
using namespace swingloss::test;

namespace {

std::vector<int> counters(const ReadClip& clip) {
  std::vector<int> out;
  for (const Frame& frame : clip.frames) out.push_back(counter_in(frame.luma).value_or(-1));
  return out;
}

std::string found_in(const std::string& folder) {
  try {
    static_cast<void>(read_all(folder));
  } catch (const InputError& error) {
    return error.fault().found;
  }
  return "";
}

}  // namespace

TEST_CASE("a folder of pictures is read in the order of its numbers", "[imaging]") {
  const ScratchFolder scratch;
  for (const int k : {8, 9, 10, 11}) {
    write_png(scratch.file("swing " + std::to_string(k) + ".png"), made_picture(k));
  }
  write_bytes(scratch.file("notes.txt"), "not a picture");
  write_bytes(scratch.file("._swing 9.png"), "what some systems leave behind");
  ReadOptions options;
  options.picture_rate_per_s = 50.0;
  options.colour = true;
  const ReadClip clip = read_all(scratch.file(""), options);
  CHECK(counters(clip) == std::vector<int>{8, 9, 10, 11});
  for (const Frame& frame : clip.frames) {
    // One division, perhaps by another route.
    CHECK_THAT(frame.t_s, to_rounding(frame.index / 50.0, 1));
    CHECK(cv::norm(frame.bgr, made_picture(frame.index + 8), cv::NORM_INF) == 0.0);
  }
  CHECK(clip.info.time_source == TimeSource::NominalRate);
  CHECK(clip.info.expected_frames == 4);
  CHECK(clip.remarks.empty());
}

TEST_CASE("a missing number keeps its place in time", "[imaging]") {
  const ScratchFolder scratch;
  // Every second number is used; 14 is missing.
  for (const int k : {10, 12, 16, 18}) {
    write_png(scratch.file("p" + std::to_string(k) + ".png"), made_picture(k));
  }
  const ReadClip clip = read_all(scratch.file(""));
  REQUIRE(clip.frames.size() == 4);
  const std::vector<int> place = {0, 1, 3, 4};
  for (std::size_t i = 0; i < 4; ++i) {
    // One division, perhaps by another route.
    CHECK_THAT(clip.frames[i].t_s, to_rounding(place[i] / 60.0, 1));
  }
  CHECK(has(clip.remarks, "pictures-missing"));
}

TEST_CASE("JPEG and TIFF folders are read, and EXIF turns them", "[imaging]") {
  const ScratchFolder scratch;
  for (const int orientation : {1, 3, 6, 8}) {
    for (const bool little : {true, false}) {
      CAPTURE(orientation, little);
      const cv::Mat stored = stored_for(made_picture(5), orientation);
      write_bytes(scratch.file("1.jpg"), jpeg_with_orientation(stored, orientation, little));
      const ReadClip clip = read_all(scratch.file(""));
      CHECK(counters(clip) == std::vector<int>{5});
      CHECK(clip.info.width_px == kMadeWidth_px);
    }
  }
  const ScratchFolder other;
  for (int k = 0; k < 3; ++k) {
    REQUIRE(cv::imwrite(other.file("t" + std::to_string(k) + ".TIFF"), made_picture(k)));
  }
  CHECK(counters(read_all(other.file(""))) == std::vector<int>{0, 1, 2});
}

TEST_CASE("a damaged picture of a folder is left out and named", "[imaging]") {
  const ScratchFolder scratch;
  for (int k = 0; k < 5; ++k)
    write_png(scratch.file(std::to_string(k) + ".png"), made_picture(k));
  const std::string whole = bytes_of(scratch.file("2.png"));
  write_bytes(scratch.file("2.png"), whole.substr(0, whole.size() / 2));
  const ReadClip clip = read_all(scratch.file(""));
  CHECK(counters(clip) == std::vector<int>{0, 1, 3, 4});
  // One division, perhaps by another route.
  CHECK_THAT(clip.frames[2].t_s, to_rounding(3 / 60.0, 1));
  REQUIRE(has(clip.remarks, "clip-damaged"));
  CHECK(clip.remarks.front().text.find("2.png") != std::string::npos);
}

TEST_CASE("a folder that is no clip is refused with the reason", "[imaging]") {
  const ScratchFolder scratch;
  CHECK(found_in(scratch.file("")) == "a folder without pictures");
  write_png(scratch.file("a1.png"), made_picture(0));
  write_png(scratch.file("a01.png"), made_picture(1));
  CHECK(found_in(scratch.file("")).find("two pictures with the number 1") != std::string::npos);
  std::filesystem::remove(scratch.file("a01.png"));
  write_png(scratch.file("a2.png"), made_picture(1)(cv::Rect(0, 0, 100, 96)));
  CHECK(found_in(scratch.file("")) == "100 x 96 pixels");
  write_bytes(scratch.file("a1.png"), "no picture");
  write_bytes(scratch.file("a2.png"), "no picture");
  CHECK(found_in(scratch.file("")).find("none can be decoded") != std::string::npos);
  ReadOptions options;
  options.picture_rate_per_s = 0.0;
  CHECK_THROWS_AS(open_clip(scratch.file(""), options), InputError);
}
