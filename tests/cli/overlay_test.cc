// SPDX-License-Identifier: Apache-2.0
// Overlay films from the command line.
#include "imaging/frame_source.h"
#include "imaging/video_writer.h"
#include "series_folder.h"
#include "support/test.h"

#include <fstream>

#include <nlohmann/json.hpp>
#include <opencv2/core.hpp>

using namespace swingloss;
using Catch::Contains;
using test::run_program;
using test::SeriesFolder;

namespace {

namespace fs = std::filesystem;

int pictures_in(const std::string& path) {
  const auto source = open_clip(path);
  int count = 0;
  while (source->next()) ++count;
  return count;
}

std::string time_of(const std::string& path) {
  return std::to_string(fs::last_write_time(path).time_since_epoch().count());
}

/// The same clip, lying on its side in the file, with a note that it is to be turned upright.
void write_turned(const std::string& from, const std::string& to) {
  WriteOptions options;
  options.rotation_deg = 90;
  const auto writer = create_clip(to, options);
  ReadOptions in_colour;
  in_colour.colour = true;
  const auto source = open_clip(from, in_colour);
  while (const auto frame = source->next()) {
    cv::Mat lying;
    cv::rotate(frame->bgr, lying, cv::ROTATE_90_COUNTERCLOCKWISE);
    writer->add(lying, frame->t_s);
  }
  writer->finish();
}

/// The same file, with the note that left and right are to be exchanged: the first number of
/// the display matrix in its track header becomes minus one [ISO14496-12 8.3.2].
void write_mirrored(const std::string& from, const std::string& to) {
  std::string bytes = test::bytes_of(from);
  const std::string one("\0\1\0\0", 4);
  const std::size_t matrix = bytes.find(one + std::string(12, '\0') + one, bytes.find("tkhd"));
  REQUIRE(matrix != std::string::npos);
  bytes.replace(matrix, 4, std::string("\xFF\xFF\0\0", 4));
  std::ofstream(to, std::ios::binary) << bytes;
}

/// How far two clips' pictures are apart on the mean, in the strip below the middle that no
/// read-out covers; in grey levels.
double apart(const std::string& one, const std::string& other) {
  const auto a = open_clip(one);
  const auto b = open_clip(other);
  double sum = 0.0;
  int count = 0;
  for (; count < 20; ++count) {
    const auto left = a->next();
    const auto right = b->next();
    REQUIRE((left && right));
    REQUIRE(left->luma.size() == right->luma.size());
    const cv::Range rows(left->luma.rows / 2, left->luma.rows * 3 / 4);
    sum += cv::norm(left->luma.rowRange(rows), right->luma.rowRange(rows), cv::NORM_L1) /
           double(rows.size() * left->luma.cols);
  }
  return sum / count;
}

}  // namespace

TEST_CASE(
    "clips turned or mirrored by metadata, of any name, are filmed as one would watch them",
    "[cli]") {
  const SeriesFolder series;
  (void)render_swing(test::small_scene(), series / "plain.mp4");
  write_turned(series / "plain.mp4", series / "gedreht \u00FC \U0001F528.mp4");
  write_mirrored(series / "plain.mp4", series / "mirrored.mp4");
  const auto measured = [&](const std::string& clip, const std::string& film) {
    const auto end =
        run_program({"swing", clip, "--rig", "rig.json", "--overlay", film, "--json", "o.json"},
                    series / "");
    CAPTURE(clip, end.out, end.err);
    REQUIRE(end.status == 0);
    return nlohmann::json::parse(test::bytes_of(series / "o.json")).at("absorbed_J");
  };
  const double plain_J = measured("plain.mp4", "f.mp4").at("value");
  for (const std::string clip : {"gedreht \u00FC \U0001F528.mp4", "mirrored.mp4"}) {
    const std::string film = "Film \u00F6 of " + clip;
    const auto absorbed = measured(clip, film);
    CHECK_THAT(absorbed.at("value").get<double>(),
               test::to_uncertainty(plain_J, absorbed.at("u").get<double>()));
    const auto info = open_clip(series / film)->info();
    CHECK(info.rotation_deg == 0);
    CHECK_FALSE(info.mirrored);
    CHECK(info.width_px == 480);
    // Coding and the thin drawing over the picture cost a few grey levels; another side up, or
    // left for right, many times that.
    CHECK(apart(series / clip, series / film) < 4.0);
  }
  CHECK(apart(series / "plain.mp4", series / "Film \u00F6 of mirrored.mp4") > 8.0);
}

TEST_CASE("swing --overlay --sound keeps the clip's sound", "[cli]") {
  const std::string ffmpeg = "/usr/bin/ffmpeg";
  if (!fs::exists(ffmpeg) || !fs::exists("/usr/bin/ffprobe")) {
    WARN("no ffmpeg here: not tried");
    return;
  }
  const SeriesFolder series;
  (void)render_swing(test::small_scene(), series / "silent.mp4");
  const auto made = test::run_words({ffmpeg,
                                     "-loglevel",
                                     "error",
                                     "-i",
                                     series / "silent.mp4",
                                     "-f",
                                     "lavfi",
                                     "-i",
                                     "sine=frequency=440:duration=2",
                                     "-c:v",
                                     "copy",
                                     "-c:a",
                                     "aac",
                                     series / "loud.mp4"});
  REQUIRE(made.status == 0);
  for (const bool sound : {true, false}) {
    std::vector<std::string> words = {
        "swing", "loud.mp4", "--rig", "rig.json", "--overlay", "film.mp4"};
    if (sound) words.emplace_back("--sound");
    const auto end = run_program(words, series / "");
    CAPTURE(sound, end.out, end.err);
    CHECK(end.status == 0);
    const auto probe = test::run_words({"/usr/bin/ffprobe",
                                        "-v",
                                        "error",
                                        "-show_entries",
                                        "stream=codec_name,duration",
                                        "-select_streams",
                                        "a",
                                        "-of",
                                        "csv=p=0",
                                        series / "film.mp4"});
    if (sound) {
      CHECK_THAT(probe.out, Catch::StartsWith("aac,"));
      CHECK(std::stod(probe.out.substr(4)) > 1.8);
    } else {
      CHECK(probe.out.empty());
    }
  }
}

TEST_CASE("swing --overlay refuses what it cannot film, before measuring", "[cli]") {
  const SeriesFolder series;
  test::write_one_picture(series / "one.mp4");
  const std::vector<std::pair<std::vector<std::string>, std::string>> wrong = {
      {{"one.mp4", "--all", "--overlay", "f.mp4"}, "--overlay with --all"},
      {{"--track", "t.csv", "--overlay", "f.mp4"}, "--overlay with --track"},
      {{"one.mp4", "--sound"}, "--sound without --overlay"},
      {{"one.mp4", "--overlay", "none/f.mp4"}, "no such folder"},
      {{"one.mp4", "--overlay", "f.txt"}, ".txt"},
      {{"one.mp4", "--overlay", "one.mp4"}, "the clip itself"}};
  const std::string before = test::bytes_of(series / "one.mp4");
  for (const auto& [arguments, fault] : wrong) {
    std::vector<std::string> words = {"swing"};
    words.insert(words.end(), arguments.begin(), arguments.end());
    const auto end = run_program(words, series / "");
    CAPTURE(fault, end.err);
    CHECK(end.status == 2);
    CHECK_THAT(end.err, Contains(fault));
  }
  CHECK(test::bytes_of(series / "one.mp4") == before);
  CHECK_FALSE(fs::exists(series / "f.mp4"));
}

TEST_CASE("run --overlays films each bar once, and never shows numbers of another run",
          "[cli]") {
  const SeriesFolder series;
  fs::create_directories(series / "clips");
  (void)render_swing(test::small_scene(), series / "clips/good.mp4");
  series.specimens(test::kTypedRows + "K1,Korvel,as-made,good.mp4,,,8\n");
  const auto first = series.run({"--overlays", "--sound"});
  CAPTURE(first.out, first.err);
  CHECK(first.status == 0);
  const std::string film = series / "results/overlays/K1.mp4";
  REQUIRE(fs::exists(film));
  CHECK(pictures_in(film) > pictures_in(series / "clips/good.mp4"));
  const std::string page = test::bytes_of(series / "results/report.html");
  CHECK_THAT(page, Contains("href=\"overlays/K1.mp4\"") && Contains("The clip has no sound"));

  const std::string written = time_of(film);
  CHECK(series.run({"--overlays", "--sound"}).status == 0);
  CHECK(series.run().status == 0);  // not asked for, still true: stays
  CHECK(time_of(film) == written);

  std::string heavier = test::kRigJson;
  heavier.replace(heavier.find("2.2"), 3, "4.4");
  series.write("rig.json", heavier);
  CHECK(series.run().status == 0);
  CHECK_FALSE(fs::exists(film));
  CHECK_THAT(test::bytes_of(series / "results/report.html"), !Contains("overlays/K1.mp4"));
}
