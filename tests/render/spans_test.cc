// SPDX-License-Identifier: Apache-2.0
#include "render/spans.h"

#include "render/prism.h"
#include "support/test.h"

#include <cstddef>

using namespace swingloss;
using namespace swingloss::render;
using test::to_printed_digits;
using test::to_truncation;

namespace {

SampleGrid grid_of(int per_pixel) {
  return {per_pixel, {0.5, 0.5}, 100 * per_pixel, 0, 100 * per_pixel};
}

int count_of(const Outline& outline, const SampleGrid& grid, std::vector<int>* hits = nullptr) {
  int count = 0;
  for_each_span(outline, grid, [&](int row, int begin, int end) {
    count += end - begin;
    for (int i = begin; hits != nullptr && i < end; ++i) {
      const std::ptrdiff_t at = std::ptrdiff_t{row} * grid.columns + i;
      ++(*hits)[static_cast<std::size_t>(at)];
    }
  });
  return count;
}

}  // namespace

TEST_CASE("a whole-pixel box is its pixels", "[render]") {
  // Pixel 10 reaches from 9.5 to 10.5.
  CHECK(count_of(box_outline({9.5, 19.5}, {19.5, 24.5}), grid_of(1)) == 50);
  CHECK(count_of(box_outline({9.5, 19.5}, {19.5, 24.5}), grid_of(2)) == 200);
}

TEST_CASE("outlines that share edges share no sample and leave none out", "[render]") {
  const cv::Point2d hub(48.37, 51.91);
  const Outline rim = round_outline({50.0, 50.0}, 41.3, 17);
  std::vector<int> hits(10000, 0);
  for (std::size_t i = 0; i < rim.size(); ++i) {
    count_of({hub, rim[i], rim[(i + 1) % rim.size()]}, grid_of(1), &hits);
  }
  std::vector<int> whole(10000, 0);
  count_of(rim, grid_of(1), &whole);
  CHECK(hits == whole);
}

TEST_CASE("the count of fine samples is the area", "[render]") {
  const Outline outline = hull_of({{12.3, 8.1}, {71.7, 22.9}, {40.2, 80.6}});
  const double area = 0.5 * ((71.7 - 12.3) * (80.6 - 8.1) - (40.2 - 12.3) * (22.9 - 8.1));
  // Each of about 180 edge pixels is off by less than half a sample of 1/256 in the mean.
  CHECK_THAT(count_of(outline, grid_of(16)) / 256.0, to_truncation(area, 180.0 / 256.0));
}

TEST_CASE("faces are cut where they leave the field", "[render]") {
  const Pinhole camera = camera_of(RenderCamera{});
  const std::vector<cv::Vec3d> wall = {
      {-9, -9, -0.2}, {9, -9, -0.2}, {9, 9, -0.2}, {-9, 9, -0.2}};
  SampleGrid grid{1, {0.5, 0.5}, 960, 0, 540};
  CHECK(count_of(project_outline(camera, wall), grid) == 960 * 540);
  const std::vector<cv::Vec3d> behind = {{-1, 0, 2.5}, {1, 0, 2.5}, {0, 1, 2.5}};
  CHECK(project_outline(camera, behind).empty());
  RenderCamera bent;
  bent.lens_k1 = -0.15;
  CHECK(count_of(project_outline(camera_of(bent), wall), grid) == 960 * 540);
}

TEST_CASE("inverse depth is one over the depth of the face", "[render]") {
  const Pinhole camera = camera_of(RenderCamera{});
  const cv::Vec3d normal = cv::normalize(cv::Vec3d(0.2, 0.3, 1.0));
  const cv::Vec3d place(0.1, -0.1, 0.05);
  const cv::Vec3d other = place + 0.3 * normal.cross(cv::Vec3d(0.0, 1.0, 0.0));
  const InverseDepth depth = inverse_depth_of(camera, place, normal);
  const cv::Point2d seen = camera.pixel_of(other);
  CHECK_THAT(depth.at(seen.x, seen.y), to_printed_digits(1.0 / camera.in_camera(other)[2], 10));
}
