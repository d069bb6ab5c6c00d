// SPDX-License-Identifier: Apache-2.0
#include "imaging/shown_lines.h"

#include "core/input_error.h"
#include "imaging/made_clip.h"
#include "imaging/one_field.h"
#include "imaging/scratch_folder.h"
#include "support/test.h"

#include <filesystem>

#include <opencv2/imgproc.hpp>

using namespace swingloss;
using namespace swingloss::test;

namespace {

constexpr int kPictures = 40;
constexpr double kStep_px = 2.0;  // a picture

/// A soft disc on grey, after so many pictures' time.
cv::Mat disc_at(double pictures) {
  cv::Mat drawn(96, 160, CV_8UC3, cv::Scalar::all(60));
  constexpr int kFraction_bits = 4;
  const double x = 40.0 + kStep_px * pictures;
  cv::circle(drawn,
             cv::Point(int(16.0 * x), 16 * 48),
             16 * 20,
             cv::Scalar::all(190),
             cv::FILLED,
             cv::LINE_AA,
             kFraction_bits);
  cv::GaussianBlur(drawn, drawn, {}, 1.0);
  return drawn;
}

cv::Mat woven_at(double pictures) { return woven(disc_at(pictures), disc_at(pictures + 0.5)); }

struct Disc {
  bool woven = false, marked = false, moves = true;
};

void write_disc(const std::string& path, const Disc& disc) {
  WriteOptions options;
  options.nominal_rate_per_s = 30.0;
  options.interlaced = disc.marked;
  const auto writer = create_clip(path, options);
  for (int k = 0; k < kPictures; ++k) {
    const double at = disc.moves ? k : 0.0;
    writer->add(disc.woven ? woven_at(at) : disc_at(at), k / 30.0);
  }
  writer->finish();
}

cv::Mat grey(const cv::Mat& picture) {
  cv::Mat out;
  cv::cvtColor(picture, out, cv::COLOR_BGR2GRAY);
  return out;
}

}  // namespace

TEST_CASE("combs tell woven pictures, marked or not, from whole ones", "[imaging]") {
  const ScratchFolder scratch;
  const std::string clip = scratch.file("disc.mp4");
  const auto shown = [&](const Disc& disc) {
    write_disc(clip, disc);
    return lines_shown(clip);
  };
  CHECK(shown({false, false}) == Lines::AsMarked);
  CHECK(shown({false, true}) == Lines::All);
  CHECK(shown({true, false}) == Lines::UpperField);
  CHECK(shown({true, true}) == Lines::AsMarked);
  // Where nothing moves, the mark stands.
  CHECK(shown({false, true, false}) == Lines::AsMarked);
}

TEST_CASE("what is no video file has its lines as they are", "[imaging]") {
  const ScratchFolder scratch;
  CHECK(lines_shown(scratch.file("absent.mp4")) == Lines::AsMarked);
  CHECK(lines_shown(std::filesystem::path(scratch.file("x")).parent_path().string()) ==
        Lines::AsMarked);
  write_bytes(scratch.file("empty.mp4"), "");
  CHECK(lines_shown(scratch.file("empty.mp4")) == Lines::AsMarked);
  write_bytes(scratch.file("words.mp4"), "these are words, and no pictures");
  CHECK_THROWS_AS(lines_shown(scratch.file("words.mp4")), InputError);
}

TEST_CASE("noise alone is neither combed nor smooth", "[imaging]") {
  cv::RNG random(5);
  CombCount noise;
  cv::Mat luma(100, 200, CV_8UC1);
  for (int k = 0; k < 20; ++k) {
    random.fill(luma, cv::RNG::NORMAL, 128.0, 20.0);
    noise.add(luma);
  }
  CHECK_FALSE(noise.is_combed());
  CHECK_FALSE(noise.is_smooth());
  CHECK_FALSE(noise.is_enough());
}

TEST_CASE("a picture of another size starts the comparison anew", "[imaging]") {
  CombCount combs;
  for (int k = 0; k < kPictures; ++k) combs.add(grey(woven_at(k)));
  CHECK(combs.is_combed());
  combs.add(cv::Mat(20, 20, CV_8UC1, cv::Scalar(255)));
  combs.add(grey(woven_at(0.0)));
  CHECK(combs.is_combed());
}

TEST_CASE("lines are taken as asked, whatever is marked, and that is remarked", "[imaging]") {
  const ScratchFolder scratch;
  const std::string clip = scratch.file("disc.mp4");
  for (const bool marked : {false, true}) {
    write_disc(clip, {true, marked});
    ReadOptions as_marked, all, upper;
    all.lines = Lines::All;
    upper.lines = Lines::UpperField;
    const ReadClip whole = read_all(clip, all), field = read_all(clip, upper);
    const cv::Mat& as_stored = whole.frames[20].luma;
    CHECK(cv::norm(field.frames[20].luma, one_field(as_stored), cv::NORM_INF) == 0.0);
    CHECK(cv::norm(field.frames[20].luma, as_stored, cv::NORM_INF) > 20.0);
    CHECK(has(field.remarks, kInterlaced) == marked);
    CHECK(has(field.remarks, kInterlacedUnmarked) == !marked);
    CHECK(has(whole.remarks, kNotInterlaced) == marked);
    const ReadClip usual = read_all(clip, as_marked);
    const cv::Mat& expected = (marked ? field : whole).frames[20].luma;
    CHECK(cv::norm(usual.frames[20].luma, expected, cv::NORM_INF) == 0.0);
  }
}
