// SPDX-License-Identifier: Apache-2.0
#include "render/render_clip.h"

#include "imaging/video_writer.h"

namespace swingloss::render {

RenderTruth render_clip(const Studio& studio,
                        const RenderScene& scene,
                        const std::string& path) {
  WriteOptions options;
  options.codec = scene.camera.codec;
  options.quality = scene.camera.quality;
  options.nominal_rate_per_s = scene.camera.rate_per_s / scene.faults.capture_rate_ratio;
  options.rotation_deg = scene.camera.rotation_deg;
  options.interlaced = scene.faults.interlaced && !scene.faults.unmarked;
  options.pixel_aspect_ratio = scene.camera.pixel_aspect_ratio;
  const std::unique_ptr<VideoWriter> writer = create_clip(path, options);
  RenderTruth truth = studio.shoot(
      scene, [&writer](const cv::Mat& bgr, double stamp_s) { writer->add(bgr, stamp_s); });
  writer->finish();
  return truth;
}

}  // namespace swingloss::render
