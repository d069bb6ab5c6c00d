// SPDX-License-Identifier: Apache-2.0
#include "report/overlay_film.h"

#include "core/input_error.h"
#include "imaging/frame_source.h"
#include "imaging/video_writer.h"
#include "report/overlay_scene.h"
#include "series/arm_in_picture.h"
#include "support/run_program.h"
#include "support/test.h"

#include <algorithm>
#include <filesystem>

#include <opencv2/imgcodecs.hpp>
#include <sys/resource.h>

namespace swingloss {
namespace {

using test::OverlayScene;

std::vector<Frame> read_back(const std::string& path) {
  ReadOptions options;
  options.colour = true;
  const auto source = open_clip(path, options);
  std::vector<Frame> frames;
  while (const auto frame = source->next()) {
    frames.push_back(*frame);
    frames.back().bgr = frame->bgr.clone();
  }
  return frames;
}

/// The arm's own colour, as the codec leaves it: far redder than blue.
bool has_arm_near(const cv::Mat& bgr, const Eigen::Vector2d& at) {
  for (int dy = -2; dy <= 2; ++dy) {
    for (int dx = -2; dx <= 2; ++dx) {
      const cv::Point place(cvRound(at.x()) + dx, cvRound(at.y()) + dy);
      if (!cv::Rect(0, 0, bgr.cols, bgr.rows).contains(place)) continue;
      const auto& pixel = bgr.at<cv::Vec3b>(place);
      if (pixel[2] > pixel[0] + 60) return true;
    }
  }
  return false;
}

/// The arm is drawn from axle to end, and nothing of it on the other side of the axle.
void check_arm(const Frame& shown, const SwingRecord& record, int frame, double t_s) {
  const bool in_touch = std::abs(t_s - *record.measurement.events.blow_s) <= 0.03;
  const auto end = arm_in_picture(record, frame, t_s, in_touch).end_px;
  REQUIRE(end.has_value());
  const Eigen::Vector2d axle = record.arm.view.axle_px;
  for (const double part : {0.4, 0.6, 0.8}) {
    CHECK(has_arm_near(shown.bgr, axle + part * (*end - axle)));
    CHECK_FALSE(has_arm_near(shown.bgr, axle - part * (*end - axle)));
  }
}

long peak_kB() {
  rusage use{};
  ::getrusage(RUSAGE_SELF, &use);
  return use.ru_maxrss;
}

}  // namespace

TEST_CASE("the film shows every picture at its own time, with the arm where the track says",
          "[report]") {
  for (const bool uneven : {false, true}) {
    CAPTURE(uneven);
    const test::TempFolder folder;
    const OverlayScene scene = test::overlay_scene(uneven);
    test::write_scene(scene, folder / "clip.mp4");
    const OverlayFilm film =
        write_overlay(scene.record, folder / "clip.mp4", folder / "film.mp4", {"K1", "", true});
    const auto& samples = scene.record.arm.angles.samples;
    const std::vector<Frame> frames = read_back(folder / "film.mp4");
    REQUIRE(film.pictures == static_cast<int>(samples.size()));
    REQUIRE(frames.size() == samples.size() + static_cast<std::size_t>(film.slow_pictures));
    for (std::size_t k = 0; k < samples.size(); ++k) {
      CAPTURE(k);
      // Either file counts time in units of 1/90000 s.
      CHECK_THAT(frames[k].t_s, test::to_truncation(samples[k].t_s, 1.01 / 90'000.0));
      if (k % 9 == 0) check_arm(frames[k], scene.record, static_cast<int>(k), samples[k].t_s);
    }
  }
}

TEST_CASE("the replay shows the blow again, slower by the number that it names", "[report]") {
  const test::TempFolder folder;
  const OverlayScene scene = test::overlay_scene();
  test::write_scene(scene, folder / "clip.mp4");
  const OverlayFilm film =
      write_overlay(scene.record, folder / "clip.mp4", folder / "film.mp4");
  CHECK(film.slower == 6);  // 60 pictures a second, not slower than ten
  const std::vector<Frame> frames = read_back(folder / "film.mp4");
  const auto& samples = scene.record.arm.angles.samples;
  const double blow_s = *scene.record.measurement.events.blow_s;
  const auto first =
      std::find_if(samples.begin(), samples.end(), [&](const AngleSample& sample) {
        return sample.t_s >= blow_s - 0.15;
      });
  REQUIRE(first != samples.end());
  for (int k = 0; k + 1 < film.slow_pictures; ++k) {
    const AngleSample& sample = *(first + k);
    const Frame& shown = frames[static_cast<std::size_t>(film.pictures + k)];
    CAPTURE(k);
    CHECK_THAT(shown.t_s,
               test::to_truncation(film.slow_from_s + 6.0 * (sample.t_s - (blow_s - 0.15)),
                                   1.01 / 90'000.0));
    check_arm(shown, scene.record, sample.frame, sample.t_s);
  }
  // The last picture is held for a second.
  CHECK_THAT(frames.back().t_s - frames[frames.size() - 2].t_s,
             test::to_truncation(1.0, 1.01 / 90'000.0));
}

TEST_CASE("a film is made of turned and of odd-sized clips, upright and with even sides",
          "[report]") {
  const test::TempFolder folder;
  OverlayScene scene = test::overlay_scene();
  std::filesystem::create_directories(folder / "odd");
  const cv::Mat grey(scene.height_px + 1, scene.width_px + 1, CV_8UC3, cv::Scalar::all(128));
  for (int k = 0; k < 30; ++k)
    cv::imwrite(folder / ("odd/" + std::to_string(1000 + k) + ".png"), grey);
  const OverlayFilm odd = write_overlay(scene.record, folder / "odd", folder / "odd.mp4");
  CHECK(odd.pictures == 30);
  std::vector<Frame> frames = read_back(folder / "odd.mp4");
  CHECK(frames.front().bgr.size() == cv::Size(482, 362));

  WriteOptions turned;
  turned.rotation_deg = 90;
  const auto writer = create_clip(folder / "turned.mp4", turned);
  const cv::Mat lying(scene.width_px, scene.height_px, CV_8UC3, cv::Scalar::all(128));
  for (const AngleSample& sample : scene.record.arm.angles.samples)
    writer->add(lying, sample.t_s);
  writer->finish();
  const OverlayFilm upright =
      write_overlay(scene.record, folder / "turned.mp4", folder / "upright.mp4");
  frames = read_back(folder / "upright.mp4");
  CHECK(frames.front().bgr.size() == cv::Size(480, 360));
  CHECK(open_clip(folder / "upright.mp4")->info().rotation_deg == 0);
  const AngleSample& sample = scene.record.arm.angles.samples[10];
  check_arm(frames[10], scene.record, sample.frame, sample.t_s);
  CHECK(upright.slow_pictures > 0);
}

TEST_CASE("a film without a blow has no replay, one without an energy says so", "[report]") {
  const test::TempFolder folder;
  OverlayScene scene = test::overlay_scene();
  SwingMeasurement& m = scene.record.measurement;
  m.outcome = Outcome::Unclear;
  m.absorbed_J.reset();
  m.rise_angle_rad.reset();
  m.events = {};
  m.remarks.push_back({"turn-not-seen", Severity::Refusal, "The clip ends too early."});
  test::write_scene(scene, folder / "clip.mp4");
  const OverlayFilm film =
      write_overlay(scene.record, folder / "clip.mp4", folder / "film.mp4");
  CHECK(film.slow_pictures == 0);
  const std::vector<Frame> frames = read_back(folder / "film.mp4");
  CHECK(static_cast<int>(frames.size()) == film.pictures);
  // The cause stands on a dark strip along the lower edge.
  const cv::Mat& last = frames.back().bgr;
  CHECK(cv::mean(last.rowRange(last.rows - 10, last.rows))[1] < 90.0);
  CHECK_THAT(cause_words(scene.record, true), Catch::Contains("ends too early"));
}

TEST_CASE("a film never takes the place of its clip", "[report]") {
  const test::TempFolder folder;
  const OverlayScene scene = test::overlay_scene();
  test::write_scene(scene, folder / "clip.mp4");
  const std::string before = test::bytes_of(folder / "clip.mp4");
  std::filesystem::create_symlink(folder / "clip.mp4", folder / "link.mp4");
  for (const char* name : {"clip.mp4", "link.mp4"})
    CHECK_THROWS_AS(write_overlay(scene.record, folder / "clip.mp4", folder / name),
                    InputError);
  CHECK(test::bytes_of(folder / "clip.mp4") == before);
}

TEST_CASE("the same record and clip give the same film, byte for byte", "[report]") {
  const test::TempFolder folder;
  const OverlayScene scene = test::overlay_scene();
  test::write_scene(scene, folder / "clip.mp4");
  (void)write_overlay(scene.record, folder / "clip.mp4", folder / "a.mp4");
  (void)write_overlay(scene.record, folder / "clip.mp4", folder / "b.mp4");
  CHECK(test::bytes_of(folder / "a.mp4") == test::bytes_of(folder / "b.mp4"));
}

TEST_CASE("a long clip needs no more memory than a short one", "[report]") {
  const test::TempFolder folder;
  const OverlayScene scene = test::overlay_scene();
  const auto writer = create_clip(folder / "long.mp4");
  const cv::Mat grey(scene.height_px, scene.width_px, CV_8UC3, cv::Scalar::all(128));
  constexpr int kPictures = 900;
  for (int k = 0; k < kPictures; ++k) writer->add(grey, k / 60.0);
  writer->finish();
  test::write_scene(scene, folder / "short.mp4");
  (void)write_overlay(scene.record, folder / "short.mp4", folder / "a.mp4");
  const long before_kB = peak_kB();
  (void)write_overlay(scene.record, folder / "long.mp4", folder / "b.mp4");
  const long one_picture_kB = 480 * 360 * 3 / 1024;
  CHECK(peak_kB() - before_kB < kPictures * one_picture_kB / 20);
}

TEST_CASE("phones can play a film: H.264, 4:2:0, index first", "[report]") {
  const test::TempFolder folder;
  const OverlayScene scene = test::overlay_scene();
  test::write_scene(scene, folder / "clip.mp4");
  (void)write_overlay(scene.record, folder / "clip.mp4", folder / "film.mp4");
  const std::string bytes = test::bytes_of(folder / "film.mp4");
  CHECK(bytes.find("moov") < bytes.find("mdat"));
  CHECK(open_clip(folder / "film.mp4")->info().codec == "h264");
  const std::string probe = "/usr/bin/ffprobe";
  if (!std::filesystem::exists(probe)) {
    WARN("no ffprobe here: not asked");
    return;
  }
  const auto end =
      test::run_words({probe, "-v", "error", "-show_streams", folder / "film.mp4"});
  CHECK(end.status == 0);
  CHECK(end.err.empty());
  for (const char* fact : {"codec_name=h264", "pix_fmt=yuv420p", "width=480", "height=360"})
    CHECK_THAT(end.out, Catch::Contains(fact));
}

}  // namespace swingloss
