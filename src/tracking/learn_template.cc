// SPDX-License-Identifier: Apache-2.0
#include "tracking/learn_template.h"

#include "tracking/all_cores.h"
#include "tracking/learn_row.h"
#include "view/turned_view.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr std::size_t kMostFrames = 90;
constexpr std::size_t kSectors = 30;  ///< of the arm's direction, over a full turn

std::size_t sector_of(double theta_rad) {
  return std::size_t(std::floor((theta_rad / (2.0 * 3.15) + 2.0) * double(kSectors))) %
         kSectors;
}

/// Width over which the arm's end is blurred.
double blur_px(const LearningScene& scene, std::size_t k, double reach_px) {
  return std::abs(scene.crops[k].omega_rad_per_s) * scene.exposure_s * reach_px;
}

/// Frames to learn from: little blur, spread over all directions of the arm so that no single
/// background or lighting decides.
std::vector<std::size_t> frames_to_learn_from(const LearningScene& scene, double reach_px) {
  std::vector<std::size_t> order(scene.crops.size());
  for (std::size_t i = 0; i < order.size(); ++i) order[i] = i;
  std::vector<int> count(kSectors, 0);
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return blur_px(scene, a, reach_px) < blur_px(scene, b, reach_px);
  });
  std::vector<std::size_t> chosen;
  for (const int most : {2, 4, 12}) {
    for (std::size_t i : order) {
      const std::size_t sector = sector_of(scene.theta_rad[i]);
      if (chosen.size() >= kMostFrames || count[sector] >= most) continue;
      if (std::find(chosen.begin(), chosen.end(), i) != chosen.end()) continue;
      ++count[sector];
      chosen.push_back(i);
    }
  }
  std::sort(chosen.begin(), chosen.end());
  return chosen;
}

/// \param k  which crop \param sharpness  how far it is to be believed
AlignedFrame align(const BodyTemplate& layout,
                   const LearningScene& scene,
                   std::size_t k,
                   double sharpness) {
  const ArmCrop& crop = scene.crops[k];
  const double theta_rad = scene.theta_rad[k];
  const SwingView& view = scene.view;
  const cv::Size size = layout.ink.size();
  const TurnedView turned(view, theta_rad, crop.omega_rad_per_s);
  cv::Mat map_x(size, CV_32F), map_y(size, CV_32F);
  for (int row = 0; row < size.height; ++row) {
    for (int column = 0; column < size.width; ++column) {
      const double bx = column - layout.extent.half_width_px,
                   by = row - layout.extent.behind_px;
      const Eigen::Vector2d p = turned.pixel_of({bx, by, layout.depth_at(bx, by)});
      map_x.at<float>(row, column) = float(p.x());
      map_y.at<float>(row, column) = float(p.y());
    }
  }
  AlignedFrame out;
  cv::Mat crop_x = map_x - float(crop.offset_px.x);
  cv::Mat crop_y = map_y - float(crop.offset_px.y);
  cv::remap(layout.curve.light_of(crop.luma),
            out.seen,
            crop_x,
            crop_y,
            cv::INTER_CUBIC,
            cv::BORDER_REPLICATE);
  cv::remap(
      scene.background, out.background, map_x, map_y, cv::INTER_LINEAR, cv::BORDER_REPLICATE);
  const cv::Mat inside = (crop_x >= 0.0F) & (crop_x <= float(crop.luma.cols - 1)) &
                         (crop_y >= 0.0F) & (crop_y <= float(crop.luma.rows - 1));
  out.weight = cv::Mat::zeros(size, CV_32F);
  const VisibleSide side(view, layout.thickness_px);
  const double c = std::cos(theta_rad), s = std::sin(theta_rad);
  for (int row = 0; row < size.height; ++row) {
    for (int column = 0; column < size.width; ++column) {
      if (!inside.at<uchar>(row, column)) continue;
      const double nx = double(layout.outward_x.at<float>(row, column)),
                   ny = double(layout.outward_y.at<float>(row, column));
      const double side_px = side.px_at(
          {double(map_x.at<float>(row, column)), double(map_y.at<float>(row, column))},
          {c * nx + s * ny, c * ny - s * nx});
      out.weight.at<float>(row, column) = float(sharpness * front_edge_weight(side_px));
    }
  }
  return out;
}

/// The arm is no mist: well outside its outline it covers nothing, well inside everything. What
/// the regression leaves there (shadows, noise where the background hardly varied) would be
/// taken for features of the arm that never move against it.
void settle_cover(BodyTemplate& body, const cv::Mat& opaque) {
  constexpr double kNothing = 0.10, kSomething = 0.25;
  cv::Mat smooth;
  cv::GaussianBlur(body.cover, smooth, {}, 1.5);
  const auto ramp = [](double value) {
    return std::clamp((value - kNothing) / (kSomething - kNothing), 0.0, 1.0);
  };
  for (int row = 0; row < smooth.rows; ++row) {
    for (int column = 0; column < smooth.cols; ++column) {
      const auto about = double(smooth.at<float>(row, column));
      const double here = ramp(about), full = 1.0 - ramp(1.0 - about);
      float& ink = body.ink.at<float>(row, column);
      float& cover = body.cover.at<float>(row, column);
      ink = float(here *
                  ((1.0 - full) * double(ink) + full * double(opaque.at<float>(row, column))));
      cover = float(here * ((1.0 - full) * double(cover) + full));
    }
  }
}

/// Copies of a template share their pixels: what is learnt into one must not show in the other.
void own_pixels(BodyTemplate& body) {
  for (cv::Mat BodyTemplate::*plane : {&BodyTemplate::ink,
                                       &BodyTemplate::cover,
                                       &BodyTemplate::outward_x,
                                       &BodyTemplate::outward_y})
    body.*plane = (body.*plane).clone();
  body.layers = cv::Mat();
  body.telling_px = cv::Mat();
}

/// Everything a registration looks up at one place, side by side.
void interleave(BodyTemplate& body) {
  std::vector<cv::Mat> planes{
      body.ink, body.cover, {}, {}, {}, {}, body.outward_x, body.outward_y};
  const cv::Mat slope = (cv::Mat_<float>(1, 3) << -0.5F, 0.0F, 0.5F);
  cv::filter2D(body.ink, planes[2], CV_32F, slope);
  cv::filter2D(body.ink, planes[3], CV_32F, slope.t());
  cv::filter2D(body.cover, planes[4], CV_32F, slope);
  cv::filter2D(body.cover, planes[5], CV_32F, slope.t());
  cv::merge(planes, body.layers);
}

/// Where a shift of the arm changes the picture by kLeast levels a pixel or more, whatever lies
/// behind; the rest need not be looked at.
void find_telling(BodyTemplate& body) {
  constexpr float kLeast = 0.25F, kBrightest = 255.0F;
  cv::Mat flat(body.ink.size(), CV_8U);
  for (int row = 0; row < flat.rows; ++row) {
    const float* layer = body.layers.ptr<float>(row);
    for (int column = 0; column < flat.cols; ++column, layer += 8) {
      const double light = double(layer[0]) + (1.0 - double(layer[1])) * body.behind_light;
      const float slope =
          std::hypot(layer[2], layer[3]) + kBrightest * std::hypot(layer[4], layer[5]);
      const bool tells = float(body.levels.level_of(light).by_light) * slope >= kLeast;
      flat.at<uchar>(row, column) = tells ? 0 : 1;
    }
  }
  cv::distanceTransform(flat, body.telling_px, cv::DIST_L2, cv::DIST_MASK_3);
}

/// Outward directions from the smoothed cover: a few pixels about the outline get one.
void find_outward(BodyTemplate& body) {
  cv::Mat smooth;
  cv::GaussianBlur(body.cover, smooth, {}, 3.0);
  cv::Sobel(smooth, body.outward_x, CV_32F, 1, 0, 3, -0.125);
  cv::Sobel(smooth, body.outward_y, CV_32F, 0, 1, 3, -0.125);
  for (int row = 0; row < smooth.rows; ++row) {
    for (int column = 0; column < smooth.cols; ++column) {
      float& nx = body.outward_x.at<float>(row, column);
      float& ny = body.outward_y.at<float>(row, column);
      const float length = std::hypot(nx, ny);
      const float scale = length > 1e-6F ? std::min(1.0F, length / 0.03F) / length : 0.0F;
      nx *= scale, ny *= scale;
    }
  }
}

}  // namespace

BodyTemplate learn_template(const BodyTemplate& layout, const LearningScene& scene) {
  BodyTemplate out = layout;
  own_pixels(out);
  out.behind_light = 0.0;
  const double reach_px = layout.extent.ahead_px;
  const std::vector<std::size_t> chosen = frames_to_learn_from(scene, reach_px);
  // Each direction counts once: many frames of the held arm, with one shadow and one
  // background, would else decide what the arm looks like.
  std::vector<double> in_sector(kSectors, 0.0);
  for (std::size_t i : chosen) in_sector[sector_of(scene.theta_rad[i])] += 1.0;
  std::vector<AlignedFrame> frames(chosen.size());
  on_all_cores(chosen.size(), [&](std::size_t at) {
    const std::size_t i = chosen[at];
    const double blur = blur_px(scene, i, reach_px);
    const double say =
        1.0 / (1.0 + blur * blur / 4.0) / in_sector[sector_of(scene.theta_rad[i])];
    frames[at] = align(layout, scene, i, say);
  });
  cv::Mat opaque = cv::Mat::zeros(out.ink.size(), CV_32F);
  on_all_cores(static_cast<std::size_t>(out.ink.rows), [&](std::size_t row) {
    learn_row(frames, static_cast<int>(row), {out.ink, out.cover, opaque});
  });
  settle_cover(out, opaque);
  for (const AlignedFrame& f : frames)
    out.behind_light += cv::mean(f.background)[0] / double(frames.size());
  find_outward(out);
  interleave(out);
  find_telling(out);
  return out;
}

BodyTemplate softened(const BodyTemplate& body, double smooth_px) {
  BodyTemplate out = body;
  own_pixels(out);
  for (cv::Mat BodyTemplate::*layer : {&BodyTemplate::ink, &BodyTemplate::cover})
    cv::GaussianBlur(body.*layer, out.*layer, {}, smooth_px);
  interleave(out);
  find_telling(out);
  return out;
}

}  // namespace swingloss
