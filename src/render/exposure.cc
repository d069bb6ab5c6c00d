// SPDX-License-Identifier: Apache-2.0
#include "render/exposure.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace swingloss::render {
namespace {

constexpr int kGroup = 8;  ///< instants come in groups with balanced sample places
constexpr int kMostGroups = 8;
/// Rows that share one time under a rolling shutter: bodies, and their soft shadows.
constexpr int kRowsPerBand = 2;
constexpr int kRowsPerShadowBand = 32;

/// Where in its cell every sample of an instant lies: eight points that share no row and no
/// column of an 8 x 8 lattice. Their mean is the middle, and their places go with time neither
/// to first nor to second order: otherwise still and moving bodies would be drawn up to 0.05 px
/// beside where they are.
cv::Point2d spread_point(int instant) {
  static constexpr std::array<int, kGroup> kColumns{2, 4, 7, 1, 6, 0, 3, 5};
  static constexpr std::array<int, kGroup> kRows{4, 5, 1, 0, 7, 6, 2, 3};
  const auto i = static_cast<std::size_t>(instant % kGroup);
  return {(kColumns.at(i) + 0.5) / kGroup, (kRows.at(i) + 0.5) / kGroup};
}

}  // namespace

void Exposure::Extent::include(int first, int last) {
  begin = std::min(begin, first);
  end = std::max(end, last);
}

Exposure::Exposure(const Design& design, const Actors& actors, bool shadow)
    : design_(design), actors_(actors), shadow_(shadow) {
  lamp_points_ = points_on(design.lamp, kLampPoints * kGroup);
}

void Exposure::fit_to(const Pinhole& camera) {
  if (width_px_ != camera.width_px || height_px_ != camera.height_px) {
    width_px_ = camera.width_px;
    height_px_ = camera.height_px;
    const std::size_t pixels = pixel_at(height_px_, 0);
    depth_.assign(pixels * kSide * kSide, 0.0F);
    paint_index_.assign(pixels * kSide * kSide, 0);
    shadow_count_.assign(pixels, 0);
    shadow_stamp_.assign(pixels, 0);
    sums_.assign(pixels, Sum{});
    instant_.assign(static_cast<std::size_t>(height_px_), Extent{});
    touched_.assign(static_cast<std::size_t>(height_px_), Extent{});
  }
  for (int row = 0; row < height_px_; ++row) {
    Extent& extent = touched_[static_cast<std::size_t>(row)];
    for (int column = extent.begin; column < extent.end; ++column)
      sums_[pixel_at(row, column)] = Sum{};
    extent = Extent{};
  }
}

void Exposure::take(const Stage& stage, const Shutter& shutter) {
  fit_to(stage.camera);
  const double half_s = 0.5 * shutter.exposure_s;
  const double moved_px = std::abs(actors_.arm_angle_rad(shutter.middle_s + half_s) -
                                   actors_.arm_angle_rad(shutter.middle_s - half_s)) *
                          design_.strike_radius_m * stage.camera.focal_px.y /
                          stage.camera.in_camera({0, 0, 0})[2];
  const int groups = std::clamp(static_cast<int>(std::ceil(moved_px / kGroup)), 1, kMostGroups);
  const int instants = groups * kGroup;
  instants_ = static_cast<float>(instants);

  const int band_rows = shutter.readout_s == 0.0 ? height_px_ : kRowsPerShadowBand;
  for (int first = 0; first < height_px_; first += band_rows) {
    const cv::Vec2i rows(first, std::min(height_px_, first + band_rows));
    for (int i = 0; i < instants; ++i) draw_instant(stage, shutter, i, rows);
  }
}

double Exposure::time_at(const Shutter& shutter, int instant, cv::Vec2i rows) const {
  const double share = (instant + 0.5) / static_cast<double>(instants_) - 0.5;
  const double row = 0.5 * (rows[0] + rows[1] - 1);
  return shutter.row_s(row, height_px_) + share * shutter.exposure_s;
}

void Exposure::draw_instant(const Stage& stage,
                            const Shutter& shutter,
                            int instant,
                            cv::Vec2i rows) {
  grid_ = SampleGrid{kSide, spread_point(instant), kSide * width_px_, 0, 0};
  paints_.clear();
  if (shadow_) draw_shadows(stage, actors_.at(time_at(shutter, instant, rows)), instant, rows);
  const int band_rows = shutter.readout_s == 0.0 ? height_px_ : kRowsPerBand;
  for (int first = rows[0]; first < rows[1]; first += band_rows) {
    const cv::Vec2i band(first, std::min(rows[1], first + band_rows));
    grid_.first_row = kSide * band[0];
    grid_.end_row = kSide * band[1];
    const std::vector<Posed> bodies = actors_.at(time_at(shutter, instant, band));
    for (const Posed& body : bodies) {
      if (may_reach(stage.camera, body, band)) draw_body(stage.camera, body);
    }
  }
  gather(rows);
}

/// Whether a ball around the body shows in these rows.
bool Exposure::may_reach(const Pinhole& camera, const Posed& posed, cv::Vec2i rows) const {
  if (rows[1] - rows[0] == height_px_) return true;
  cv::Point2d low = posed.prism->outline_m[0], high = low;
  for (const cv::Point2d& corner : posed.prism->outline_m) {
    low = {std::min(low.x, corner.x), std::min(low.y, corner.y)};
    high = {std::max(high.x, corner.x), std::max(high.y, corner.y)};
  }
  const double deep_m = posed.prism->front_m - posed.prism->back_m;
  const double radius_m = 0.5 * std::hypot(high.x - low.x, high.y - low.y) + deep_m;
  const cv::Vec3d middle = posed.pose(0.5 * (low + high), posed.prism->back_m + 0.5 * deep_m);
  const double depth_m = camera.in_camera(middle)[2] - radius_m;
  if (depth_m < 0.1) return true;
  const double row = camera.pixel_of(middle).y;
  // A quarter more for the slant of rays and the bend of a lens.
  const double reach_px = 1.25 * radius_m * camera.focal_px.y / depth_m + 2.0;
  return row + reach_px >= rows[0] && row - reach_px < rows[1];
}

Exposure::Paint Exposure::paint_of(const Pinhole& camera, const Face& face) const {
  Paint paint;
  paint.fixed = face.albedo.mul(design_.lamp.sky) * ambient_light(face.normal);
  paint.lit = face.albedo.mul(design_.lamp.power);
  const cv::Vec3d& at = face.corners_m[0];
  paint.base = direct_light(design_.lamp, at, face.normal);
  if (face.decal || face.normal[2] < 0.999) return paint;
  // A front: let the lamp's light run over it, by its slope along two sides of 10 mm.
  const double step_m = 0.01;
  const cv::Vec3d right = at + cv::Vec3d(step_m, 0.0, 0.0);
  const cv::Vec3d above = at + cv::Vec3d(0.0, step_m, 0.0);
  const cv::Point2d origin = camera.pixel_of(at);
  const cv::Point2d a = camera.pixel_of(right) - origin;
  const cv::Point2d b = camera.pixel_of(above) - origin;
  const double da =
      static_cast<double>(direct_light(design_.lamp, right, face.normal) - paint.base);
  const double db =
      static_cast<double>(direct_light(design_.lamp, above, face.normal) - paint.base);
  const double det = a.x * b.y - a.y * b.x;
  const double by_x = (da * b.y - db * a.y) / det;
  const double by_y = (a.x * db - b.x * da) / det;
  paint.by_x = static_cast<float>(by_x);
  paint.by_y = static_cast<float>(by_y);
  paint.base -= static_cast<float>(by_x * origin.x + by_y * origin.y);
  return paint;
}

void Exposure::draw_body(const Pinhole& camera, const Posed& posed) {
  double lift = 1.0;
  for (const Face& face : visible_faces(*posed.prism, posed.pose, camera.lens_m)) {
    const Outline outline = project_outline(camera, face.corners_m);
    if (outline.empty()) continue;
    paints_.push_back(paint_of(camera, face));
    const auto index = static_cast<std::uint16_t>(paints_.size());
    // Paint lies on its surface: let it win over what it shares the plane with.
    lift = face.decal ? lift + 1e-6 : 1.0;
    const InverseDepth depth = inverse_depth_of(camera, face.corners_m[0], face.normal);
    for_each_span(outline, grid_, [&](int row, int begin, int end) {
      const double y_px = (row + grid_.shift.y) / kSide - 0.5;
      const double x_px = grid_.shift.x / kSide - 0.5;
      const Run run{row, begin, end, lift * depth.at(x_px, y_px), lift * depth.by_x / kSide};
      fill_run(run, index);
    });
  }
}

void Exposure::fill_run(const Run& run, std::uint16_t paint) {
  std::size_t at = static_cast<std::size_t>(run.row) * static_cast<std::size_t>(grid_.columns) +
                   static_cast<std::size_t>(run.begin);
  for (int column = run.begin; column < run.end; ++column, ++at) {
    const auto nearness = static_cast<float>(run.depth_at_left + run.depth_by_column * column);
    if (nearness <= depth_[at]) continue;
    depth_[at] = nearness;
    paint_index_[at] = paint;
  }
  Extent& extent = instant_[static_cast<std::size_t>(run.row / kSide)];
  extent.include(run.begin / kSide, (run.end - 1) / kSide + 1);
}

void Exposure::draw_shadows(const Stage& stage,
                            const std::vector<Posed>& bodies,
                            int instant,
                            cv::Vec2i rows) {
  const SampleGrid grid{1, spread_point(instant), width_px_, rows[0], rows[1]};
  for (int k = 0; k < kLampPoints; ++k) {
    const auto which =
        static_cast<std::size_t>(instant * kLampPoints + k) % lamp_points_.size();
    for (const Posed& body : bodies)
      draw_shadow(stage, body, {lamp_points_[which], k + 1}, grid);
  }
}

void Exposure::draw_shadow(const Stage& stage,
                           const Posed& body,
                           const LampPoint& lamp,
                           const SampleGrid& grid) {
  const auto mark = static_cast<std::uint8_t>(lamp.mark);
  for (std::size_t r = 0; r < stage.receivers.size(); ++r) {
    const std::vector<cv::Vec3d> corners =
        shadow_of(*body.prism, body.pose, lamp.place_m, stage.receivers[r]);
    if (corners.size() < 3) continue;
    const auto wanted = static_cast<std::uint8_t>(r + 1);
    for_each_span(
        project_outline(stage.camera, corners), grid, [&](int row, int begin, int end) {
          const auto* receiver = stage.receiver.ptr<std::uint8_t>(row);
          shade_run({row, begin, end, 0.0, 0.0}, receiver, wanted, mark);
        });
  }
}

void Exposure::shade_run(const Run& run,
                         const std::uint8_t* receiver,
                         std::uint8_t wanted,
                         std::uint8_t mark) {
  for (int column = run.begin; column < run.end; ++column) {
    if (receiver[column] == wanted) shade_pixel(run.row, column, mark);
  }
}

void Exposure::shade_pixel(int row, int column, std::uint8_t mark) {
  const std::size_t at = pixel_at(row, column);
  if (shadow_stamp_[at] == mark) return;
  shadow_stamp_[at] = mark;
  ++shadow_count_[at];
  instant_[static_cast<std::size_t>(row)].include(column, column + 1);
}

void Exposure::gather_pixel(int row, int column) {
  Sum& sum = sums_[pixel_at(row, column)];
  int covered = 0;
  for (int j = 0; j < kSide; ++j) {
    std::size_t at =
        static_cast<std::size_t>(row * kSide + j) * static_cast<std::size_t>(grid_.columns) +
        static_cast<std::size_t>(column * kSide);
    for (int i = 0; i < kSide; ++i, ++at) {
      const std::uint16_t index = paint_index_[at];
      if (index == 0) continue;
      paint_index_[at] = 0;
      depth_[at] = 0.0F;
      const Paint& paint = paints_[index - 1U];
      const float lamp = paint.base + paint.by_x * static_cast<float>(column) +
                         paint.by_y * static_cast<float>(row);
      sum.light += paint.fixed + paint.lit * lamp;
      ++covered;
    }
  }
  constexpr float kSamples = kSide * kSide;
  const float open = 1.0F - static_cast<float>(covered) / kSamples;
  sum.covered += 1.0F - open;
  std::uint8_t& shadow = shadow_count_[pixel_at(row, column)];
  if (shadow == 0) return;
  sum.shadowed += open * static_cast<float>(shadow) / kLampPoints;
  shadow = 0;
  shadow_stamp_[pixel_at(row, column)] = 0;
}

void Exposure::gather(cv::Vec2i rows) {
  for (int row = rows[0]; row < rows[1]; ++row) {
    Extent& extent = instant_[static_cast<std::size_t>(row)];
    if (extent.begin >= extent.end) continue;
    for (int column = extent.begin; column < extent.end; ++column) gather_pixel(row, column);
    touched_[static_cast<std::size_t>(row)].include(extent.begin, extent.end);
    extent = Extent{};
  }
}

Colour Exposure::light(const Stage& stage, int row, int column) const {
  const Sum& sum = sums_[pixel_at(row, column)];
  const float open = 1.0F - sum.covered / instants_;
  const float lit = open - sum.shadowed / instants_;
  constexpr float kSamples = kSide * kSide;
  return sum.light / (kSamples * instants_) + stage.ambient.at<cv::Vec3f>(row, column) * open +
         stage.lamp.at<cv::Vec3f>(row, column) * lit;
}

}  // namespace swingloss::render
