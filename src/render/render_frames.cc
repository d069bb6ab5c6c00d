// SPDX-License-Identifier: Apache-2.0
#include "render/render_frames.h"

#include "core/expects.h"
#include "render/actors.h"
#include "render/in_parallel.h"
#include "render/shooting_plan.h"

#include <algorithm>
#include <cmath>
#include <future>
#include <limits>
#include <memory>

namespace swingloss::render {
namespace {

constexpr int kFramesPerThread = 8;  ///< between two hand-overs to the sink

Pinhole with_margin(Pinhole camera, int margin_px) {
  camera.width_px += 2 * margin_px;
  camera.height_px += 2 * margin_px;
  camera.centre_px += cv::Point2d(margin_px, margin_px);
  return camera;
}

/// As stored: mirrored, and turned so that the recorded rotation brings it upright again.
cv::Mat as_stored(cv::Mat picture, const RenderCamera& camera) {
  if (camera.mirrored) cv::flip(picture, picture, 1);
  switch (camera.rotation_deg) {
    case 0:
      break;
    case 90:
      cv::rotate(picture, picture, cv::ROTATE_90_COUNTERCLOCKWISE);
      break;
    case 180:
      cv::rotate(picture, picture, cv::ROTATE_180);
      break;
    case 270:
      cv::rotate(picture, picture, cv::ROTATE_90_CLOCKWISE);
      break;
    default:
      expects(false, "RenderCamera: rotation_deg is 0, 90, 180 or 270");
  }
  return picture;
}

/// One clip in the making: everything that all its frames share, then one frame after another.
class Shoot {
 public:
  Shoot(const RenderScene& scene, const Stage& stage)
      : scene_(scene),
        stage_(stage),
        camera_(camera_of(scene.camera)),
        design_(make_design(scene)),
        motion_(swing_motion(scene)),
        actors_(scene, design_, motion_),
        turn_(scene),
        light_(scene, motion_.end_s()),
        film_(scene.camera.noise_levels, scene.seed),
        times_(frame_times(scene, motion_.end_s())) {
    expects(scene.jobs >= 1, "RenderScene: jobs >= 1");
    if (steady()) still_ = film_.still(stage_, gains_of(shutter_at(0.0)));
    for (int i = 0; i < scene.jobs; ++i) {
      exposures_.push_back(std::make_unique<Exposure>(design_, actors_, scene.shadow));
    }
  }

  RenderTruth run(const FrameSink& sink);

 private:
  [[nodiscard]] bool steady() const { return turn_.still() && light_.steady(); }
  [[nodiscard]] Shutter shutter_at(double t_s) const {
    return {t_s, scene_.camera.exposure_s, scene_.faults.readout_s};
  }
  [[nodiscard]] RowGains gains_of(const Shutter& shutter) const {
    return light_.over(shutter, camera_.height_px);
  }
  [[nodiscard]] Levels levels_at(double t_s, Exposure* exposure) const;
  [[nodiscard]] cv::Mat frame(int k, Exposure* exposure) const;
  [[nodiscard]] std::vector<cv::Mat> batch(int first) const;
  [[nodiscard]] RenderTruth truth() const;

  const RenderScene& scene_;
  const Stage& stage_;
  Pinhole camera_;
  Design design_;
  Motion motion_;
  Actors actors_;
  CameraTurn turn_;
  LightCourse light_;
  Film film_;
  std::vector<FrameTime> times_;
  Levels still_;
  std::vector<std::unique_ptr<Exposure>> exposures_;
};

Levels Shoot::levels_at(double t_s, Exposure* exposure) const {
  const Shutter shutter = shutter_at(t_s);
  const RowGains gains = gains_of(shutter);
  if (turn_.still()) {
    exposure->take(stage_, shutter);
    const Levels still = steady() ? still_ : film_.still(stage_, gains);
    return film_.with_motion(still, stage_, *exposure, gains);
  }
  const Stage stage = seen_by(stage_, camera_.turned(turn_.at(t_s)));
  exposure->take(stage, shutter);
  return film_.with_motion(film_.still(stage, gains), stage, *exposure, gains);
}

cv::Mat Shoot::frame(int k, Exposure* exposure) const {
  const double t_s = times_[static_cast<std::size_t>(k)].true_s;
  if (!scene_.faults.interlaced) {
    return as_stored(film_.develop(levels_at(t_s, exposure), k), scene_.camera);
  }
  const double quarter_s = 0.25 / scene_.camera.rate_per_s;
  Levels woven = levels_at(t_s - quarter_s, exposure);
  const Levels later = levels_at(t_s + quarter_s, exposure);
  for (int row = 1; row < woven.rows; row += 2) later.row(row).copyTo(woven.row(row));
  return as_stored(film_.develop(woven, k), scene_.camera);
}

RenderTruth Shoot::truth() const {
  RenderTruth truth;
  truth.swings = motion_.swings();
  truth.release_deg = truth.swings.front().release_deg;
  truth.rise_deg = truth.swings.front().rise_deg;
  truth.absorbed_J = truth.swings.front().absorbed_J;
  for (const FrameTime& time : times_) {
    truth.frame_time_s.push_back(time.true_s);
    truth.frame_stamp_s.push_back(time.stamp_s);
    truth.frame_angle_deg.push_back(Angle::from_rad(motion_.theta_rad(time.true_s)).deg());
  }
  return truth;
}

std::vector<cv::Mat> Shoot::batch(int first) const {
  const int left = static_cast<int>(times_.size()) - first;
  std::vector<cv::Mat> pictures;
  if (left <= 0) return pictures;
  const int count = std::min(left, scene_.jobs * kFramesPerThread);
  pictures.resize(static_cast<std::size_t>(count));
  in_parallel(count, scene_.jobs, [&](int part, int begin, int end) {
    Exposure* exposure = exposures_[static_cast<std::size_t>(part)].get();
    for (int i = begin; i < end; ++i) {
      pictures[static_cast<std::size_t>(i)] = frame(first + i, exposure);
    }
  });
  return pictures;
}

RenderTruth Shoot::run(const FrameSink& sink) {
  std::vector<cv::Mat> ready = batch(0);
  std::size_t done = 0;
  while (!ready.empty()) {
    // The next pictures are drawn while these are coded.
    const int next = static_cast<int>(done + ready.size());
    std::future<std::vector<cv::Mat>> coming =
        std::async(std::launch::async, [this, next] { return batch(next); });
    for (const cv::Mat& picture : ready) sink(picture, times_[done++].stamp_s);
    ready = coming.get();
  }
  return truth();
}

/// What the still picture depends on.
bool same_set_up(const RenderScene& a, const RenderScene& b) {
  const RenderCamera& p = a.camera;
  const RenderCamera& q = b.camera;
  const bool same_room = a.design_seed.value_or(a.seed) == b.design_seed.value_or(b.seed) &&
                         a.rig.reduced_length_m == b.rig.reduced_length_m &&
                         a.faults.upright_like_arm == b.faults.upright_like_arm;
  const bool same_place = p.yaw_deg == q.yaw_deg && p.pitch_deg == q.pitch_deg &&
                          p.roll_deg == q.roll_deg && p.distance_m == q.distance_m &&
                          p.aim_x_m == q.aim_x_m && p.aim_y_m == q.aim_y_m;
  const bool same_lens = p.horizontal_field_deg == q.horizontal_field_deg &&
                         p.lens_k1 == q.lens_k1 && p.width_px == q.width_px &&
                         p.height_px == q.height_px &&
                         p.pixel_aspect_ratio == q.pixel_aspect_ratio;
  const bool same_margin =
      a.faults.shake_deg == b.faults.shake_deg && a.faults.bump_deg == b.faults.bump_deg;
  return same_room && same_place && same_lens && same_margin;
}

}  // namespace

Studio::Studio(const RenderScene& scene) : set_up_(scene) {
  expects(scene.jobs >= 1, "RenderScene: jobs >= 1");
  const Pinhole camera = camera_of(scene.camera);
  const int margin_px = CameraTurn(scene).margin_px(camera);
  stage_ = draw_stage(make_design(scene), with_margin(camera, margin_px), scene.jobs);
}

RenderTruth Studio::shoot(const RenderScene& scene, const FrameSink& sink) const {
  expects(same_set_up(set_up_, scene), "Studio: the scene has another room or camera");
  return Shoot(scene, stage_).run(sink);
}

RenderTruth render_frames(const RenderScene& scene, const FrameSink& sink) {
  return Studio(scene).shoot(scene, sink);
}

}  // namespace swingloss::render
