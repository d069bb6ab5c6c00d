// SPDX-License-Identifier: Apache-2.0
#include "report/chart_files.h"

#include "report/html_check.h"
#include "report/invented_series.h"
#include "report/ranking_chart.h"
#include "support/test.h"

#include <set>

#include <opencv2/imgcodecs.hpp>

namespace swingloss {
namespace {

cv::Mat read_png(const std::string& bytes) {
  return cv::imdecode(std::vector<unsigned char>(bytes.begin(), bytes.end()),
                      cv::IMREAD_UNCHANGED);
}

std::string ranking_picture(const Canvas& canvas) {
  return draw_chart(ranking_chart_script(test::invented_series(), canvas), canvas);
}

int opacity_of_corner(const cv::Mat& picture) {
  return picture.channels() == 4 ? picture.at<cv::Vec4b>(2, 2)[3] : 255;
}

/// Blue, green, red.
cv::Vec3b colour_of(const char* hex) {
  const auto part = [&](std::size_t at) {
    return static_cast<unsigned char>(std::stoi(std::string(hex).substr(at, 2), nullptr, 16));
  };
  return {part(5), part(3), part(1)};
}

}  // namespace

TEST_CASE("every choice of chart files joins with the others, each under its own name",
          "[report]") {
  CHECK(chart_files(100, 100, {}).size() == 2);
  CHECK(chart_files(100, 100, {true, false, false}).size() == 3);
  const std::vector<ChartFile> all = chart_files(100, 100, {true, true, true});
  std::set<std::string> endings;
  for (const ChartFile& file : all) endings.insert(file.ending);
  CHECK(endings == std::set<std::string>{".png",
                                         ".svg",
                                         "-4k.png",
                                         "-dark.png",
                                         "-dark.svg",
                                         "-transparent.png",
                                         "-transparent.svg",
                                         "-4k-dark.png",
                                         "-4k-transparent.png",
                                         "-dark-transparent.png",
                                         "-dark-transparent.svg",
                                         "-4k-dark-transparent.png"});
  CHECK(all.size() == endings.size());
}

TEST_CASE("PNG charts are as large as their name says", "[report]") {
  for (const ChartFile& file : chart_files(100, 100, {true, false, false})) {
    if (file.canvas.kind != CanvasKind::Png) continue;
    CAPTURE(file.ending);
    const cv::Mat picture = read_png(ranking_picture(file.canvas));
    const bool uhd = file.ending == "-4k.png";
    CHECK(picture.cols == (uhd ? 3840 : 1920));
    CHECK(picture.rows == (uhd ? 2160 : 1080));
  }
}

TEST_CASE("a transparent chart has no ground, a plain one has all of it", "[report]") {
  for (const ChartFile& file : chart_files(1200, 600, {false, true, true})) {
    CAPTURE(file.ending);
    const std::string picture = ranking_picture(file.canvas);
    const bool transparent = file.ending.find("transparent") != std::string::npos;
    if (file.canvas.kind == CanvasKind::Png)
      CHECK(opacity_of_corner(read_png(picture)) == (transparent ? 0 : 255));
    else
      CHECK(test::times_in(picture, "width=\"1200\" height=\"600\" fill=\"none\"") ==
            (transparent ? 1U : 0U));
  }
}

TEST_CASE("a dark chart stands on the dark ground and uses no light colour", "[report]") {
  Canvas canvas = video_canvas();
  CHECK(read_png(ranking_picture(canvas)).at<cv::Vec3b>(2, 2) == colour_of(kPaper.light));
  canvas.dark = true;
  CHECK(read_png(ranking_picture(canvas)).at<cv::Vec3b>(2, 2) == colour_of(kPaper.dark));
}

}  // namespace swingloss
