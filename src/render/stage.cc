// SPDX-License-Identifier: Apache-2.0
#include "render/stage.h"

#include "render/grain.h"
#include "render/in_parallel.h"
#include "render/spans.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss::render {
namespace {

constexpr int kPasses = 16;
constexpr int kLampPointsPerPass = 3;

/// A face ready to be filled.
struct DrawnFace {
  Face face;
  Outline outline_px;
  InverseDepth depth;
  int receiver = 0;  ///< 1 + index, 0 for none
};

/// A standing shadow of one lamp point on one plane.
struct DrawnShadow {
  int receiver = 0;
  Outline outline_px;
};

std::size_t find_or_add(std::vector<Receiver>* receivers, const Receiver& wanted) {
  for (std::size_t i = 0; i < receivers->size(); ++i) {
    const Receiver& r = (*receivers)[i];
    if (r.level == wanted.level && std::abs(r.at_m - wanted.at_m) < 1e-9) return i;
  }
  receivers->push_back(wanted);
  return receivers->size() - 1;
}

/// Every front, and the broad level tops (bench and base). 1 + index, 0 for none.
int receiver_of(const Face& face, std::vector<Receiver>* receivers) {
  const bool front = face.normal[2] > 0.999;
  const double width_m = std::abs(face.corners_m[1][0] - face.corners_m[0][0]);
  const bool level = face.normal[1] > 0.999 && width_m > 0.3;
  if (!front && !level) return 0;
  Receiver plane;
  plane.level = level;
  plane.at_m = face.corners_m[0][level ? 1 : 2];
  const std::size_t at = find_or_add(receivers, plane);
  Receiver& receiver = (*receivers)[at];
  for (const cv::Vec3d& corner : face.corners_m) {
    const double across = corner[level ? 2 : 1];
    receiver.low_m = {std::min(receiver.low_m.x, corner[0]),
                      std::min(receiver.low_m.y, across)};
    receiver.high_m = {std::max(receiver.high_m.x, corner[0]),
                       std::max(receiver.high_m.y, across)};
  }
  return static_cast<int>(at) + 1;
}

class StagePainter {
 public:
  StagePainter(const Design& design, const Pinhole& camera) : design_(design), camera_(camera) {
    for (const Prism& prism : design.room) {
      for (Face& face : visible_faces(prism, {}, camera.lens_m)) add(std::move(face));
    }
    const std::vector<cv::Vec3d> points = points_on(design.lamp, kPasses * kLampPointsPerPass);
    for (const cv::Vec3d& point : points) shadows_.push_back(shadows_from(point));
  }

  [[nodiscard]] const std::vector<Receiver>& receivers() const { return receivers_; }
  void paint_rows(int first_row, int end_row, Stage* stage) const;

 private:
  /// Inverse depth along a row of samples.
  struct Nearness {
    double at_left = 0.0, by_column = 0.0;
  };
  /// Buffers of one band of rows.
  struct Band {
    int first_row = 0, end_row = 0, columns = 0;
    std::vector<float> depth;
    std::vector<std::uint16_t> face;  ///< 1 + index
    std::vector<std::uint8_t> shadowed, stamp;
    [[nodiscard]] std::size_t at(int row, int column) const {
      return static_cast<std::size_t>(row - first_row) * static_cast<std::size_t>(columns) +
             static_cast<std::size_t>(column);
    }
    void offer(cv::Vec3i row_begin_end, const Nearness& nearness, std::uint16_t number) {
      std::size_t sample = at(row_begin_end[0], row_begin_end[1]);
      for (int column = row_begin_end[1]; column < row_begin_end[2]; ++column, ++sample) {
        const auto here = static_cast<float>(nearness.at_left + nearness.by_column * column);
        if (here <= depth[sample]) continue;
        depth[sample] = here;
        face[sample] = number;
      }
    }
  };

  void add(Face face);
  [[nodiscard]] std::vector<DrawnShadow> shadows_from(const cv::Vec3d& light_m) const;
  void fill_faces(const SampleGrid& grid, Band* band) const;
  void fill_shadows(const SampleGrid& grid, int pass, Band* band) const;
  void fill_shadow(const SampleGrid& grid,
                   const DrawnShadow& shadow,
                   std::uint8_t mark,
                   Band* band) const;
  void shade(const SampleGrid& grid, const Band& band, Stage* stage) const;

  const Design& design_;
  const Pinhole camera_;
  std::vector<DrawnFace> faces_;
  std::vector<Receiver> receivers_;
  std::vector<std::vector<DrawnShadow>> shadows_;  ///< for each lamp point
};

void StagePainter::add(Face face) {
  DrawnFace drawn;
  drawn.outline_px = project_outline(camera_, face.corners_m);
  if (drawn.outline_px.empty()) return;
  drawn.depth = inverse_depth_of(camera_, face.corners_m[0], face.normal);
  drawn.receiver = receiver_of(face, &receivers_);
  drawn.face = std::move(face);
  faces_.push_back(std::move(drawn));
}

std::vector<DrawnShadow> StagePainter::shadows_from(const cv::Vec3d& light_m) const {
  std::vector<DrawnShadow> shadows;
  for (std::size_t r = 0; r < receivers_.size(); ++r) {
    for (const Prism& prism : design_.room) {
      const std::vector<cv::Vec3d> corners = shadow_of(prism, {}, light_m, receivers_[r]);
      if (corners.size() < 3) continue;
      Outline outline = project_outline(camera_, corners);
      if (!outline.empty()) shadows.push_back({static_cast<int>(r) + 1, std::move(outline)});
    }
  }
  return shadows;
}

void StagePainter::fill_faces(const SampleGrid& grid, Band* band) const {
  std::fill(band->depth.begin(), band->depth.end(), 0.0F);
  std::fill(band->face.begin(), band->face.end(), std::uint16_t{0});
  for (std::size_t i = 0; i < faces_.size(); ++i) {
    const DrawnFace& drawn = faces_[i];
    // Paint lies on its surface: let it win over the front that it shares the plane with.
    const double lift = drawn.face.decal ? 1.0 + 1e-6 * static_cast<double>(i % 64 + 1) : 1.0;
    for_each_span(drawn.outline_px, grid, [&](int row, int begin, int end) {
      const cv::Point2d origin(grid.shift.x - 0.5, row + grid.shift.y - 0.5);
      const Nearness nearness{lift * drawn.depth.at(origin.x, origin.y),
                              lift * drawn.depth.by_x};
      band->offer({row, begin, end}, nearness, static_cast<std::uint16_t>(i + 1));
    });
  }
}

void StagePainter::fill_shadows(const SampleGrid& grid, int pass, Band* band) const {
  std::fill(band->shadowed.begin(), band->shadowed.end(), std::uint8_t{0});
  std::fill(band->stamp.begin(), band->stamp.end(), std::uint8_t{0});
  for (int point = 0; point < kLampPointsPerPass; ++point) {
    const auto which =
        static_cast<std::size_t>(pass) * kLampPointsPerPass + static_cast<std::size_t>(point);
    const auto mark = static_cast<std::uint8_t>(point + 1);
    for (const DrawnShadow& shadow : shadows_[which]) fill_shadow(grid, shadow, mark, band);
  }
}

void StagePainter::fill_shadow(const SampleGrid& grid,
                               const DrawnShadow& shadow,
                               std::uint8_t mark,
                               Band* band) const {
  for_each_span(shadow.outline_px, grid, [&](int row, int begin, int end) {
    std::size_t at = band->at(row, begin);
    for (int column = begin; column < end; ++column, ++at) {
      if (band->face[at] == 0 || band->stamp[at] == mark) continue;
      if (faces_[band->face[at] - 1U].receiver != shadow.receiver) continue;
      band->stamp[at] = mark;
      ++band->shadowed[at];
    }
  });
}

void StagePainter::shade(const SampleGrid& grid, const Band& band, Stage* stage) const {
  const Lamp& lamp = design_.lamp;
  for (int row = band.first_row; row < band.end_row; ++row) {
    auto* ambient = stage->ambient.ptr<cv::Vec3f>(row);
    auto* direct = stage->lamp.ptr<cv::Vec3f>(row);
    std::size_t at = band.at(row, 0);
    for (int column = 0; column < band.columns; ++column, ++at) {
      if (band.face[at] == 0) continue;
      const DrawnFace& drawn = faces_[band.face[at] - 1U];
      const cv::Point2d pixel(column + grid.shift.x - 0.5, row + grid.shift.y - 0.5);
      const cv::Vec3d ray = camera_.ray_of(pixel);
      const cv::Vec3d& n = drawn.face.normal;
      const double reach = n.dot(drawn.face.corners_m[0] - camera_.lens_m) / n.dot(ray);
      const cv::Vec3d place = camera_.lens_m + reach * ray;
      const float relief = drawn.face.decal
                               ? 1.0F
                               : grain_at(*drawn.face.material, cv::Vec3f(place), cv::Vec3f(n));
      const cv::Vec3f albedo = drawn.face.albedo * (relief / kPasses);
      const float seen = 1.0F - static_cast<float>(band.shadowed[at]) / kLampPointsPerPass;
      ambient[column] += albedo.mul(lamp.sky) * ambient_light(n);
      direct[column] += albedo.mul(lamp.power) * (seen * direct_light(lamp, place, n));
    }
  }
}

void StagePainter::paint_rows(int first_row, int end_row, Stage* stage) const {
  Band band;
  band.first_row = first_row;
  band.end_row = end_row;
  band.columns = camera_.width_px;
  const std::size_t size = band.at(end_row, 0);
  band.depth.resize(size);
  band.face.resize(size);
  band.shadowed.resize(size);
  band.stamp.resize(size);
  SampleGrid grid{1, {0.5, 0.5}, camera_.width_px, first_row, end_row};

  fill_faces(grid, &band);
  for (int row = first_row; row < end_row; ++row) {
    auto* receiver = stage->receiver.ptr<std::uint8_t>(row);
    for (int column = 0; column < band.columns; ++column) {
      const std::uint16_t face = band.face[band.at(row, column)];
      receiver[column] =
          face == 0 ? std::uint8_t{0} : static_cast<std::uint8_t>(faces_[face - 1U].receiver);
    }
  }
  for (int pass = 0; pass < kPasses; ++pass) {
    // A 4 x 4 lattice, each sample moved within its cell so that no two share a row or column.
    const int i = pass % 4;
    const int j = pass / 4;
    grid.shift = {(i + (j + 0.5) / 4.0) / 4.0, (j + (i + 0.5) / 4.0) / 4.0};
    fill_faces(grid, &band);
    fill_shadows(grid, pass, &band);
    shade(grid, band, stage);
  }
}

}  // namespace

Stage draw_stage(const Design& design, const Pinhole& camera, int jobs) {
  Stage stage;
  stage.camera = camera;
  stage.ambient = cv::Mat::zeros(camera.height_px, camera.width_px, CV_32FC3);
  stage.lamp = cv::Mat::zeros(camera.height_px, camera.width_px, CV_32FC3);
  stage.receiver = cv::Mat::zeros(camera.height_px, camera.width_px, CV_8UC1);
  const StagePainter painter(design, camera);
  stage.receivers = painter.receivers();
  in_parallel(camera.height_px, jobs, [&](int /*part*/, int begin, int end) {
    painter.paint_rows(begin, end, &stage);
  });
  return stage;
}

Stage seen_by(const Stage& stage, const Pinhole& turned) {
  cv::Mat columns(turned.height_px, turned.width_px, CV_32FC1);
  cv::Mat rows(turned.height_px, turned.width_px, CV_32FC1);
  for (int row = 0; row < turned.height_px; ++row) {
    auto* x = columns.ptr<float>(row);
    auto* y = rows.ptr<float>(row);
    for (int column = 0; column < turned.width_px; ++column) {
      const cv::Vec3d ray = turned.ray_of(cv::Point2d(column, row));
      const cv::Point2d from = stage.camera.pixel_of(stage.camera.lens_m + ray);
      x[column] = static_cast<float>(from.x);
      y[column] = static_cast<float>(from.y);
    }
  }
  Stage result;
  result.camera = turned;
  result.receivers = stage.receivers;
  cv::remap(
      stage.ambient, result.ambient, columns, rows, cv::INTER_CUBIC, cv::BORDER_REPLICATE);
  cv::remap(stage.lamp, result.lamp, columns, rows, cv::INTER_CUBIC, cv::BORDER_REPLICATE);
  cv::remap(
      stage.receiver, result.receiver, columns, rows, cv::INTER_NEAREST, cv::BORDER_REPLICATE);
  return result;
}

}  // namespace swingloss::render
