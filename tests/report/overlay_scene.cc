// SPDX-License-Identifier: Apache-2.0
#include "report/overlay_scene.h"

#include "imaging/video_writer.h"

#include <opencv2/core.hpp>

namespace swingloss::test {

OverlayScene overlay_scene(bool uneven) {
  OverlayScene scene;
  scene.record = invented_swing(118.0, 71.0);
  ArmTrack& arm = scene.record.arm;
  arm.view.axle_px = {239.5, 179.5};
  arm.view.tilt_x_rad = 0.0;
  arm.view.tilt_y_rad = 0.0;
  arm.view.focal_px = 900.0;
  arm.view.principal_px = {239.5, 179.5};
  arm.arm_length_px = 90.0;
  std::vector<AngleSample> kept;
  for (std::size_t k = 0; k < arm.angles.samples.size(); ++k) {
    if (uneven && k % 5 == 4) continue;
    kept.push_back(arm.angles.samples[k]);
    kept.back().frame = static_cast<int>(kept.size()) - 1;
  }
  arm.angles.samples = kept;
  arm.frames = static_cast<int>(kept.size());
  arm.clip.width_px = scene.width_px;
  arm.clip.height_px = scene.height_px;
  return scene;
}

void write_scene(const OverlayScene& scene, const std::string& path) {
  const auto writer = create_clip(path);
  const cv::Mat grey(scene.height_px, scene.width_px, CV_8UC3, cv::Scalar::all(128));
  for (const AngleSample& sample : scene.record.arm.angles.samples)
    writer->add(grey, sample.t_s);
  writer->finish();
}

}  // namespace swingloss::test
