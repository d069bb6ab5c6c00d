// SPDX-License-Identifier: Apache-2.0
/// What our own writer writes, our reader reads: order, time, brightness, place.
#include "core/input_error.h"
#include "imaging/made_clip.h"
#include "imaging/scratch_folder.h"
#include "support/test.h"

#include <cmath>

using namespace swingloss;
using namespace swingloss::test;

namespace {

struct Pair {
  const char* codec;
  const char* ending;
  double tick_s;  ///< resolution of the stored times
};

/// 90 000 units a second, but 45 000 for MPEG-4 (16 bits in its syntax); Matroska has whole
/// milliseconds.
constexpr double kTick_s = 1.0 / 90'000, kMpeg4Tick_s = 1.0 / 45'000, kMkvTick_s = 1e-3;

const std::vector<Pair>& timed_pairs() {
  static const std::vector<Pair> pairs = {{"h264", ".mp4", kTick_s},
                                          {"h264", ".mov", kTick_s},
                                          {"h264", ".mkv", kMkvTick_s},
                                          {"hevc", ".mp4", kTick_s},
                                          {"hevc", ".mov", kTick_s},
                                          {"hevc", ".mkv", kMkvTick_s},
                                          {"mjpeg", ".mp4", kTick_s},
                                          {"mjpeg", ".mov", kTick_s},
                                          {"mjpeg", ".mkv", kMkvTick_s},
                                          {"vp9", ".mp4", kTick_s},
                                          {"vp9", ".mkv", kMkvTick_s},
                                          {"vp9", ".webm", kMkvTick_s},
                                          {"mpeg4", ".mp4", kMpeg4Tick_s},
                                          {"mpeg4", ".mov", kMpeg4Tick_s},
                                          {"mpeg4", ".mkv", kMkvTick_s},
                                          {"ffv1", ".mkv", kMkvTick_s}};
  return pairs;
}

/// 30 pictures/s with jitter, and every seventh picture missing after it.
std::vector<double> uneven_times(int count) {
  std::vector<double> times_s;
  double t_s = 0.0;
  for (int k = 0; k < count; ++k) {
    times_s.push_back(t_s);
    t_s += (k % 7 == 3 ? 2.0 : 1.0) / 30.0 + (k % 3 - 1) * 0.002;
  }
  return times_s;
}

WriteOptions options_for(const std::string& codec) {
  WriteOptions options;
  options.codec = codec;
  options.nominal_rate_per_s = 30.0;
  options.quality = 10;
  return options;
}

}  // namespace

TEST_CASE("every pair of codec and container keeps order and uneven times", "[imaging]") {
  const ScratchFolder scratch;
  const std::vector<double> times_s = uneven_times(24);
  for (const Pair& pair : timed_pairs()) {
    CAPTURE(pair.codec, pair.ending);
    const std::string path = scratch.file(std::string("clip") + pair.ending);
    write_made(path, times_s, options_for(pair.codec));
    const ReadClip clip = read_all(path);
    REQUIRE(clip.frames.size() == times_s.size());
    for (std::size_t i = 0; i < times_s.size(); ++i) {
      CAPTURE(i);
      CHECK(clip.frames[i].index == static_cast<int>(i));
      CHECK(counter_in(clip.frames[i].luma) == static_cast<int>(i));
      // Rounded to the tick once; the first stamp is exactly 0.
      CHECK_THAT(clip.frames[i].t_s, to_truncation(times_s[i], 0.5001 * pair.tick_s));
    }
    CHECK(clip.info.time_source == TimeSource::TimeStamps);
    CHECK(clip.info.codec == pair.codec);
    CHECK(clip.info.width_px == kMadeWidth_px);
    CHECK(clip.info.height_px == kMadeHeight_px);
    CHECK(has(clip.remarks, "uneven-time"));
    CHECK_FALSE(has(clip.remarks, "rate-disagrees"));
    CHECK_FALSE(has(clip.remarks, "clip-cut-off"));
    CHECK_FALSE(has(clip.remarks, "clip-damaged"));
  }
}

TEST_CASE("an even clip gives no remark", "[imaging]") {
  const ScratchFolder scratch;
  for (const Pair& pair : timed_pairs()) {
    CAPTURE(pair.codec, pair.ending);
    const std::string path = scratch.file(std::string("even") + pair.ending);
    write_made(path, even_times(10, 30.0), options_for(pair.codec));
    CHECK(read_all(path).remarks.empty());
  }
}

TEST_CASE("an .avi is timed by its rate and says so", "[imaging]") {
  const ScratchFolder scratch;
  const std::vector<double> times_s = uneven_times(24);
  for (const char* codec : {"h264", "mjpeg", "mpeg4", "vp9", "ffv1"}) {
    CAPTURE(codec);
    const std::string path = scratch.file("clip.avi");
    write_made(path, times_s, options_for(codec));
    const ReadClip clip = read_all(path);
    REQUIRE(clip.frames.size() == times_s.size());
    for (std::size_t i = 0; i < times_s.size(); ++i) {
      CHECK(counter_in(clip.frames[i].luma) == static_cast<int>(i));
      // The nearest whole interval: half of one at most.
      CHECK_THAT(clip.frames[i].t_s, to_truncation(times_s[i], 0.5001 / 30.0));
    }
    CHECK(clip.info.time_source == TimeSource::NominalRate);
    CHECK(has(clip.remarks, "nominal-time"));
    CHECK_FALSE(has(clip.remarks, "time-stamps-repaired"));
  }
}

TEST_CASE("brightness comes out as it was stored", "[imaging]") {
  const ScratchFolder scratch;
  const std::string path = scratch.file("clip.mkv");
  // Lossless. Studio range: 16 + 219/255 g (ITU-R BT.601), rounded by the writer; its
  // fixed-point weights may move that by one more.
  write_made(path, even_times(4, 30.0), options_for("ffv1"));
  ReadOptions colour;
  colour.colour = true;
  const ReadClip clip = read_all(path, colour);
  for (const Frame& frame : clip.frames) {
    const cv::Mat made = made_picture(frame.index);
    REQUIRE(frame.luma.type() == CV_8UC1);
    REQUIRE(frame.bgr.type() == CV_8UC3);
    double most_luma = 0.0;
    for (int y = 0; y < made.rows; ++y) {
      for (int x = 0; x < made.cols; ++x) {
        const double stored = 16.0 + 219.0 / 255.0 * made.at<cv::Vec3b>(y, x)[0];
        most_luma = std::max(most_luma, std::abs(frame.luma.at<unsigned char>(y, x) - stored));
      }
    }
    CHECK_THAT(most_luma, to_truncation(0.0, 1.5));
    // Back to full range the rounding is magnified by 255/219, and rounded again.
    CHECK_THAT(cv::norm(frame.bgr, made, cv::NORM_INF), to_truncation(0.0, 3.0));
  }
  CHECK(read_all(path).frames.front().bgr.empty());
}

TEST_CASE("coding error stays below the quantiser's step", "[imaging]") {
  const ScratchFolder scratch;
  // H.264 and HEVC: step 2^((QP - 4) / 6) (ITU-T H.264, 8.5.9), QP up to 6 above the rate
  // factor on pictures built on others; Motion JPEG and MPEG-4: twice the quantiser, 2 here.
  const double step = std::pow(2.0, (10.0 + 6.0 - 4.0) / 6.0);
  for (const char* codec : {"h264", "hevc", "mjpeg", "mpeg4"}) {
    CAPTURE(codec);
    const std::string path = scratch.file("clip.mp4");
    write_made(path, even_times(16, 30.0), options_for(codec));
    const bool full = std::string(codec) == "mjpeg";
    for (const Frame& frame : read_all(path).frames) {
      cv::Mat made, stored;
      cv::extractChannel(made_picture(frame.index), made, 0);
      made.convertTo(stored, CV_8U, full ? 1.0 : 219.0 / 255.0, full ? 0.0 : 16.0);
      const double rms =
          cv::norm(frame.luma, stored, cv::NORM_L2) / std::sqrt(made.rows * made.cols);
      CHECK_THAT(rms, to_truncation(0.0, step));
    }
  }
}

TEST_CASE("the dot is where it was drawn", "[imaging]") {
  const ScratchFolder scratch;
  const std::string path = scratch.file("clip.mkv");
  write_made(path, even_times(30, 30.0), options_for("ffv1"));
  for (const Frame& frame : read_all(path).frames) {
    const cv::Point2d found = dot_in(frame.luma), truth = dot_place(frame.index);
    // Centre of brightness of about 150 pixels, each rounded by half a level at up to 6 px from
    // the centre: sqrt(150) 6 (0.3) / sum of brightness (about 5000) = 0.005 px, four times
    // that.
    CHECK_THAT(found.x, to_truncation(truth.x, 0.02));
    CHECK_THAT(found.y, to_truncation(truth.y, 0.02));
  }
}

TEST_CASE("the pictures do not depend on the number of threads", "[imaging]") {
  const ScratchFolder scratch;
  for (const char* codec : {"h264", "hevc", "vp9"}) {
    const std::string path = scratch.file("clip.mkv");
    write_made(path, even_times(20, 30.0), options_for(codec));
    ReadOptions one, three;
    one.threads = 1;
    three.threads = 3;
    const ReadClip a = read_all(path, one), b = read_all(path, three);
    REQUIRE(a.frames.size() == b.frames.size());
    for (std::size_t i = 0; i < a.frames.size(); ++i) {
      CHECK(a.frames[i].t_s == b.frames[i].t_s);
      CHECK(cv::norm(a.frames[i].luma, b.frames[i].luma, cv::NORM_INF) == 0.0);
    }
  }
}

TEST_CASE("a clip of one picture is read", "[imaging]") {
  const ScratchFolder scratch;
  for (const char* name : {"one.mp4", "one.mkv", "one.avi"}) {
    CAPTURE(name);
    write_made(scratch.file(name), {0.0}, options_for("h264"));
    const ReadClip clip = read_all(scratch.file(name));
    REQUIRE(clip.frames.size() == 1);
    CHECK(clip.frames.front().t_s == 0.0);
    CHECK(counter_in(clip.frames.front().luma) == 0);
  }
}

TEST_CASE("blanks and letters beyond ASCII in a path do no harm", "[imaging]") {
  const ScratchFolder scratch;
  std::filesystem::create_directory(scratch.file("Prüf körper"));
  for (const char* name :
       {"Prüf körper/Stäbe 3 %d #1.mp4", "http:clip.mkv", "摆锤.mov", "a?b&c.avi"}) {
    CAPTURE(name);
    write_made(scratch.file(name), even_times(3, 30.0), options_for("mpeg4"));
    CHECK(read_all(scratch.file(name)).frames.size() == 3);
  }
}
