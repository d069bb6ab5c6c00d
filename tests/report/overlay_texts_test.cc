// SPDX-License-Identifier: Apache-2.0
#include "report/overlay_texts.h"

#include "report/invented_series.h"
#include "report/picture_words.h"
#include "support/test.h"

#include <opencv2/core.hpp>

namespace swingloss {
namespace {

const ReadOut& line_of(const std::vector<ReadOut>& lines, const std::string& name) {
  for (const ReadOut& line : lines) {
    if (line.name == name) return line;
  }
  throw std::runtime_error("no line " + name);
}

int dark_pixels(const std::string& words) {
  cv::Mat bgr(60, 400, CV_8UC3, cv::Scalar::all(255));
  draw_words(bgr, words, {10, 40}, 20.0, cv::Scalar::all(0));
  int count = 0;
  for (auto pixel = bgr.begin<cv::Vec3b>(); pixel != bgr.end<cv::Vec3b>(); ++pixel)
    count += (*pixel)[0] < 128 ? 1 : 0;
  return count;
}

}  // namespace

TEST_CASE("each read-out comes at its own moment", "[report]") {
  const SwingRecord record = test::invented_swing(118.0, 71.0);
  const SwingEvents& events = record.measurement.events;
  const std::vector<ReadOut> lines = read_outs(record, true);
  CHECK(line_of(lines, "release").from_s == *events.release_s);
  CHECK(line_of(lines, "blow").from_s == *events.blow_s);
  CHECK(line_of(lines, "rise").from_s == *events.turn_s);
  CHECK(line_of(lines, "energy").from_s == *events.turn_s);
  CHECK_THAT(line_of(lines, "energy").words, Catch::Contains("J"));
  CHECK(cause_words(record, true).empty());
}

TEST_CASE("what was not measured says so from the start, and never shows a number",
          "[report]") {
  SwingRecord record = test::invented_swing(118.0, 71.0);
  CHECK(line_of(read_outs(record, false), "energy").words != "no rig given");
  record.measurement.absorbed_J.reset();
  CHECK(line_of(read_outs(record, false), "energy").words == "no rig given");
  CHECK(cause_words(record, false).empty());
  const ReadOut energy = line_of(read_outs(record, true), "energy");
  CHECK(energy.words == "not measured");
  CHECK(energy.from_s < 0.0);
  record.measurement.outcome = Outcome::FreeSwing;
  CHECK(line_of(read_outs(record, true), "energy").words == "none: a free swing");
  CHECK(read_outs(record, true).size() == 2);
}

TEST_CASE("a bar that held is shown as a bound", "[report]") {
  SwingRecord record = test::invented_swing(118.0, 71.0);
  record.measurement.censoring = Censoring::Right;
  CHECK_THAT(line_of(read_outs(record, true), "energy").words, Catch::StartsWith("at least "));
}

TEST_CASE("words on a picture have a degree sign and a plus-minus sign", "[report]") {
  CHECK(dark_pixels("1") < dark_pixels("1°"));
  CHECK(dark_pixels("±") > 60);
  CHECK(dark_pixels("±") != dark_pixels("?"));
  CHECK(words_width_px("1°", 20.0) > words_width_px("1", 20.0));
  CHECK(dark_pixels("\u2212") == dark_pixels("-"));
  CHECK(dark_pixels("ä") == dark_pixels("?"));
}

}  // namespace swingloss
