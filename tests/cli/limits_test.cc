// SPDX-License-Identifier: Apache-2.0
// Whole runs at the ends of what a series may hold.
#include "series_folder.h"
#include "support/test.h"

#include <nlohmann/json.hpp>

using namespace swingloss;
using Catch::Contains;
using test::SeriesFolder;

namespace {

/// `rows` typed bars of twenty groups.
std::string many_rows(int rows) {
  std::string text;
  for (int i = 0; i < rows; ++i) {
    text += "T" + std::to_string(i) + ",M" + std::to_string(i % 20) + ",as-made,,1." +
            std::to_string(100 + i * 7919 % 101) + ",,8\n";
  }
  return text;
}

}  // namespace

TEST_CASE("ten thousand rows of bars and of weighings are read, ranked and reported", "[cli]") {
  const SeriesFolder series;
  series.specimens(many_rows(10'000));
  std::string masses = "id,day,mass_g\n";
  for (int i = 0; i < 10'000; ++i) {
    masses += "T" + std::to_string(i / 100) + "," + std::to_string(i % 100) + "," +
              std::to_string(10.0 + 0.001 * (i % 100)) + "\n";
  }
  series.write("masses.csv", masses);
  const auto end = series.run({"--quiet"});
  CAPTURE(end.err);
  CHECK(end.status == 0);
  const auto json = nlohmann::json::parse(test::bytes_of(series / "results/results.json"));
  CHECK(json.at("bars").size() == 10'000);
  CHECK(json.at("groups").size() == 20);
  CHECK(json.at("conditioning").size() == 100);
}

TEST_CASE("a clip of an hour in which nothing swings is refused with the reason", "[cli]") {
  const SeriesFolder series;
  std::filesystem::create_directories(series / "clips");
  WriteOptions slow;
  slow.nominal_rate_per_s = 5.0;
  const auto writer = create_clip(series / "clips/hour.mp4", slow);
  const cv::Mat picture(48, 64, CV_8UC3, cv::Scalar::all(90));
  for (int i = 0; i <= 5 * 3600; ++i) writer->add(picture, i / 5.0);
  writer->finish();
  const auto end = test::run_program({"swing", "clips/hour.mp4"}, series / "");
  CAPTURE(end.out, end.err);
  CHECK(end.status == 1);
  CHECK_THAT(end.out + end.err, Contains("clips/hour.mp4: "));
}
