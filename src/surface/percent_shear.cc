// SPDX-License-Identifier: Apache-2.0
#include "surface/percent_shear.h"

#include "core/expects.h"
#include "core/number_text.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

/// Corners in shares of the broken part: x along the notch, y from root to far side.
std::vector<cv::Point2f> in_section(const FaceMeasures& face, const Polygon& flat_px) {
  cv::Point2f from[4];
  for (std::size_t i = 0; i < 4; ++i)
    from[i] = {float(face.broken_px[i].x()), float(face.broken_px[i].y())};
  const cv::Point2f to[4] = {{0.0F, 0.0F}, {1.0F, 0.0F}, {1.0F, 1.0F}, {0.0F, 1.0F}};
  std::vector<cv::Point2f> corners;
  for (const Eigen::Vector2d& p : flat_px) corners.emplace_back(float(p.x()), float(p.y()));
  cv::perspectiveTransform(corners, corners, cv::getPerspectiveTransform(from, to));
  return corners;
}

}  // namespace

double percent_shear(double a_m, double b_m, double section_m2) {
  expects(a_m >= 0.0 && b_m >= 0.0 && section_m2 > 0.0, "percent_shear: lengths, a section");
  return std::max(0.0, 100.0 * (1.0 - a_m * b_m / section_m2));
}

Result<ShearReading> shear_from_outline(const FaceMeasures& face, const Polygon& flat_px) {
  expects(flat_px.size() >= 3 && face.broken_px.size() == 4, "shear_from_outline: an outline");
  const std::vector<cv::Point2f> corners = in_section(face, flat_px);
  constexpr float kOff = 0.1F;
  for (const cv::Point2f& p : corners) {
    if (p.x < -kOff || p.y < -kOff || p.x > 1.0F + kOff || p.y > 1.0F + kOff) {
      return Failure{
          "flat-part-outside",
          "a corner of the flat part lies outside the face that broke",
          "Give its corners in pixels of the photograph as it stands upright, and the "
          "face that they belong to."};
    }
  }
  ShearReading shear;
  shear.flat_px = flat_px;
  const double share = cv::contourArea(corners);
  shear.percent = std::max(0.0, 100.0 * (1.0 - share));
  shear.basis =
      "the flat part's outline covers " + fixed_text(100.0 * share, 0) + " % of the section";
  if (face.section) {
    const auto [low, high] = std::minmax_element(
        corners.begin(), corners.end(), [](const auto& a, const auto& b) { return a.y < b.y; });
    // The mean depth is taken as the outline's; A is what makes the product its area.
    const double depth = double(high->y) - double(low->y);
    shear.b_m = depth * face.section->width_m.value();
    shear.a_m = share / std::max(1e-9, depth) * face.section->thickness_m.value();
  }
  return shear;
}

ShearReading shear_from_sizes(const FaceMeasures& face, double a_m, double b_m) {
  ShearReading shear;
  shear.a_m = a_m;
  shear.b_m = b_m;
  const double section_m2 = face.section ? face.section->area_m2.value() : kUsualSection_m2;
  shear.percent = percent_shear(a_m, b_m, section_m2);
  shear.basis = "A " + fixed_text(1e3 * a_m, 1) + " mm, B " + fixed_text(1e3 * b_m, 1) +
                " mm over " + fixed_text(1e6 * section_m2, 1) + " mm2" +
                (face.section ? " as photographed" : ", the section of the usual bar");
  return shear;
}

ShearReading shear_found(const FaceMeasures& face, const FlatPart& flat) {
  expects(face.broken_px.size() == 4, "shear_found: a face with its broken part");
  const auto& q = face.broken_px;
  ShearReading shear;
  for (const auto& [s, t] : {std::pair(flat.left, flat.top),
                             std::pair(flat.right, flat.top),
                             std::pair(flat.right, flat.bottom),
                             std::pair(flat.left, flat.bottom)}) {
    shear.flat_px.push_back((1.0 - t) * ((1.0 - s) * q[0] + s * q[1]) +
                            t * ((1.0 - s) * q[3] + s * q[2]));
  }
  shear.percent = 100.0 * (1.0 - flat.share);
  shear.u_percent = 100.0 * flat.u_share;
  shear.basis = "a flat part was found that covers " + fixed_text(100.0 * flat.share, 0) +
                " % of the section";
  if (face.section) {
    shear.a_m = (flat.right - flat.left) * face.section->thickness_m.value();
    shear.b_m = (flat.bottom - flat.top) * face.section->width_m.value();
  }
  return shear;
}

}  // namespace swingloss
