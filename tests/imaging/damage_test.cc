// SPDX-License-Identifier: Apache-2.0
/// Damaged and cut-off clips: what can be read is given, and nothing that damage may have
/// touched.
#include "core/input_error.h"
#include "imaging/made_clip.h"
#include "imaging/scratch_folder.h"
#include "support/test.h"

#include <map>
#include <random>

using namespace swingloss;
using namespace swingloss::test;

namespace {

constexpr int kPictures = 40;

std::string write_clip(const std::string& path, const std::string& codec) {
  WriteOptions options;
  options.codec = codec;
  options.nominal_rate_per_s = 12.0;  // a key picture every 12
  options.quality = 15;
  write_made(path, even_times(kPictures, 12.0), options);
  return bytes_of(path);
}

/// Pictures of an undamaged clip by their number.
std::map<int, cv::Mat> by_number(const ReadClip& clip) {
  std::map<int, cv::Mat> pictures;
  for (const Frame& frame : clip.frames) {
    if (const auto number = counter_in(frame.luma)) pictures[*number] = frame.luma;
  }
  return pictures;
}

/// Pictures that are not, to the last bit, one of the undamaged clip.
int spoilt(const ReadClip& clip, const std::map<int, cv::Mat>& sound) {
  int count = 0;
  for (const Frame& frame : clip.frames) {
    const auto number = counter_in(frame.luma);
    const auto truth = sound.find(number.value_or(-1));
    const bool same =
        truth != sound.end() && cv::norm(frame.luma, truth->second, cv::NORM_INF) == 0.0;
    if (!same) ++count;
  }
  return count;
}

bool grows(const std::vector<Frame>& frames) {
  for (std::size_t i = 1; i < frames.size(); ++i) {
    if (!(frames[i].t_s > frames[i - 1].t_s)) return false;
  }
  return true;
}

std::string overwritten(std::string bytes,
                        std::size_t at,
                        std::size_t length,
                        std::mt19937& dice) {
  for (std::size_t i = at; i < at + length; ++i) bytes[i] = static_cast<char>(dice() & 0xFFU);
  return bytes;
}

struct Kind {
  const char* codec;
  const char* name;
};

}  // namespace

TEST_CASE("a clip cut off anywhere gives its sound beginning and says so", "[imaging]") {
  const ScratchFolder scratch;
  for (const Kind kind : {Kind{"h264", "a.mp4"},
                          {"h264", "a.mkv"},
                          {"hevc", "a.mp4"},
                          {"mjpeg", "a.avi"},
                          {"vp9", "a.webm"},
                          {"mpeg4", "a.avi"}}) {
    CAPTURE(kind.codec, kind.name);
    const std::string whole = write_clip(scratch.file(kind.name), kind.codec);
    const auto sound = by_number(read_all(scratch.file(kind.name)));
    REQUIRE(sound.size() == kPictures);
    std::size_t last = 0, gave_some = 0;
    for (int part = 1; part < 24; ++part) {
      const std::size_t length = whole.size() * static_cast<std::size_t>(part) / 24;
      CAPTURE(length, whole.size());
      write_bytes(scratch.file(kind.name), whole.substr(0, length));
      try {
        const ReadClip clip = read_all(scratch.file(kind.name));
        CHECK(spoilt(clip, sound) == 0);
        CHECK(grows(clip.frames));
        CHECK(has(clip.remarks, "clip-cut-off"));
        CHECK(clip.frames.size() >= last);
        CHECK(clip.frames.size() <= kPictures);
        last = clip.frames.size();
        ++gave_some;
      } catch (const InputError& error) {  // nothing but the head is left
        CHECK(last == 0);
        CHECK_FALSE(error.fault().next.empty());
      }
    }
    CHECK(gave_some >= 12);
    CHECK(last >= kPictures * 3 / 4);
  }
}

TEST_CASE("a single missing byte at the end is noticed", "[imaging]") {
  const ScratchFolder scratch;
  for (const Kind kind : {Kind{"h264", "a.mp4"}, {"h264", "a.mkv"}, {"mjpeg", "a.avi"}}) {
    CAPTURE(kind.name);
    std::string bytes = write_clip(scratch.file(kind.name), kind.codec);
    bytes.pop_back();
    write_bytes(scratch.file(kind.name), bytes);
    const ReadClip clip = read_all(scratch.file(kind.name));
    CHECK(has(clip.remarks, "clip-cut-off"));
    CHECK(clip.frames.size() >= kPictures - 1);
  }
}

TEST_CASE("pictures that an index names and the file lacks are noticed", "[imaging]") {
  const ScratchFolder scratch;
  std::string bytes = write_clip(scratch.file("a.mp4"), "h264");
  // Length 0: "to the end of the file". Then no box tells that something is missing.
  bytes.replace(bytes.find("mdat") - 4, 4, std::string(4, '\0'));
  write_bytes(scratch.file("a.mp4"), bytes);
  CHECK(read_all(scratch.file("a.mp4")).remarks.empty());
  write_bytes(scratch.file("a.mp4"), bytes.substr(0, bytes.size() * 2 / 3));
  const ReadClip clip = read_all(scratch.file("a.mp4"));
  CHECK(has(clip.remarks, "clip-cut-off"));
  CHECK(clip.info.expected_frames == kPictures);
  CHECK(clip.frames.size() < kPictures);
}

TEST_CASE("a recording without its index is refused with the reason", "[imaging]") {
  const ScratchFolder scratch;
  const std::string bytes = write_clip(scratch.file("a.mov"), "h264");  // index last
  for (const std::size_t keep : {bytes.size() / 3, bytes.size() / 2, bytes.size() - 10}) {
    write_bytes(scratch.file("a.mov"), bytes.substr(0, keep));
    try {
      static_cast<void>(open_clip(scratch.file("a.mov")));
      FAIL("opened a file without index");
    } catch (const InputError& error) {
      CHECK(error.fault().file == scratch.file("a.mov"));
      CHECK(error.fault().found.find("without its index") != std::string::npos);
      CHECK(error.fault().next.find("again") != std::string::npos);
    }
  }
}

TEST_CASE("damage is never handed out where the coding can show it", "[imaging]") {
  const ScratchFolder scratch;
  // FFV1 carries a check sum a slice, our HEVC one a picture; H.264's arithmetic code goes
  // astray and is caught by its end marks. 32 bytes of noise pass such checks by chance only:
  // 2^-32.
  for (const Kind kind : {Kind{"ffv1", "a.mkv"}, {"hevc", "a.mp4"}, {"h264", "a.mp4"}}) {
    CAPTURE(kind.codec);
    const std::string whole = write_clip(scratch.file(kind.name), kind.codec);
    const auto sound = by_number(read_all(scratch.file(kind.name)));
    std::mt19937 dice(5);
    int hit = 0;
    for (int trial = 0; trial < 12; ++trial) {
      CAPTURE(trial);
      const std::size_t at = whole.size() / 3 + dice() % (whole.size() / 2);
      write_bytes(scratch.file(kind.name), overwritten(whole, at, 32, dice));
      const ReadClip clip = read_all(scratch.file(kind.name));
      CHECK(spoilt(clip, sound) == 0);
      CHECK(grows(clip.frames));
      // A check sum that is itself overwritten may leave all pictures as they were.
      if (clip.frames.size() < kPictures) ++hit;
      CHECK(has(clip.remarks, "clip-damaged") == (clip.frames.size() < kPictures));
      // At most the damaged group of 12 is lost, and before it up to 4 that bridge over to its
      // key picture; not all that follows.
      CHECK(clip.frames.size() >= kPictures - 16);
    }
    CHECK(hit >= 9);
  }
}

TEST_CASE("what damage leaves does not depend on the number of threads", "[imaging]") {
  const ScratchFolder scratch;
  for (const Kind kind : {Kind{"h264", "a.mkv"}, {"hevc", "a.mkv"}, {"mpeg4", "a.avi"}}) {
    CAPTURE(kind.codec);
    const std::string whole = write_clip(scratch.file(kind.name), kind.codec);
    std::mt19937 dice(8);
    for (int trial = 0; trial < 5; ++trial) {
      const std::size_t at = whole.size() / 4 + dice() % (whole.size() / 2);
      write_bytes(scratch.file(kind.name), overwritten(whole, at, 16, dice));
      ReadOptions one, four;
      one.threads = 1;
      four.threads = 4;
      const ReadClip a = read_all(scratch.file(kind.name), one);
      const ReadClip b = read_all(scratch.file(kind.name), four);
      REQUIRE(a.frames.size() == b.frames.size());
      for (std::size_t i = 0; i < a.frames.size(); ++i) {
        CHECK(a.frames[i].t_s == b.frames[i].t_s);
        CHECK(cv::norm(a.frames[i].luma, b.frames[i].luma, cv::NORM_INF) == 0.0);
      }
      CHECK(a.remarks.size() == b.remarks.size());
    }
  }
}

TEST_CASE("pictures lost from an .avi are remarked, for it holds no time stamps", "[imaging]") {
  const ScratchFolder scratch;
  std::string bytes = write_clip(scratch.file("a.avi"), "mjpeg");
  // The chunk head of the 20th picture made unreadable: its picture is skipped.
  std::size_t at = bytes.find("movi");
  for (int k = 0; k < 20; ++k) at = bytes.find("00dc", at + 4);
  bytes.replace(at, 8, "\xFF\xFF\xFF\xFF\xFF\xFF\xFF\xFF");
  write_bytes(scratch.file("a.avi"), bytes);
  const ReadClip clip = read_all(scratch.file("a.avi"));
  CHECK(clip.frames.size() == kPictures - 1);
  CHECK(has(clip.remarks, "clip-damaged"));
  CHECK_FALSE(has(clip.remarks, "clip-cut-off"));
}

TEST_CASE("noise in a file never brings the reader down", "[imaging]") {
  const ScratchFolder scratch;
  std::mt19937 dice(11);
  int read = 0, refused = 0;
  for (const Kind kind : {Kind{"h264", "a.mp4"},
                          {"vp9", "a.webm"},
                          {"mjpeg", "a.avi"},
                          {"mpeg4", "a.mkv"},
                          {"h264", "a.mov"}}) {
    const std::string whole = write_clip(scratch.file(kind.name), kind.codec);
    for (int trial = 0; trial < 15; ++trial) {
      std::string bytes = whole;
      for (int hole = 0; hole < 3; ++hole) {  // heads and indexes included
        bytes = overwritten(bytes, dice() % (bytes.size() - 8), 8, dice);
      }
      write_bytes(scratch.file(kind.name), bytes);
      try {
        const ReadClip clip = read_all(scratch.file(kind.name));
        CHECK(grows(clip.frames));
        ++read;
      } catch (const InputError&) {
        ++refused;
      }
    }
  }
  CHECK(read > 0);
  CHECK(read + refused == 75);
}
