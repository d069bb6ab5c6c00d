// SPDX-License-Identifier: Apache-2.0
#include "tracking/cell_registration.h"

#include "core/angle.h"
#include "support/test.h"
#include "tracking/drawn_crops.h"
#include "tracking/learn_template.h"
#include "view/turned_view.h"

#include <cmath>
#include <vector>

#include <Eigen/LU>

using namespace swingloss;

namespace {

/// The drawn bar's clip with everything about it known.
class KnownBar {
 public:
  KnownBar() {
    for (const ArmCrop& crop : crops_) theta_rad_.push_back(crop.theta_rad);
    const CameraCurve curve;
    behind_ = curve.light_of(test::bar_wall());
    body_ = learn_template(empty_template({131.0, 26.0, 26.0}, curve),
                           {crops_, theta_rad_, view_, behind_, 0.0});
  }

  [[nodiscard]] const BodyTemplate& body() const { return body_; }
  [[nodiscard]] std::size_t frames() const { return crops_.size(); }
  /// \param off_rad  from the true direction
  [[nodiscard]] std::vector<CellShift> registered(std::size_t k, double off_rad = 0.0) const {
    return register_frame(body_, {crops_[k], theta_rad_[k] + off_rad, view_, behind_}, {})
        .cells;
  }
  /// How far along the true turn a cell was found from where the direction assumed has it, px.
  [[nodiscard]] double turned_px(std::size_t k, double off_rad, const CellShift& cell) const {
    const TurnedView assumed(view_, theta_rad_[k] + off_rad);
    const Eigen::Vector3d place(cell.body_px.x(), cell.body_px.y(), 0.0);
    const Eigen::Vector2d across(std::cos(theta_rad_[k]), -std::sin(theta_rad_[k]));
    return across.dot(cell.pixel - assumed.pixel_of(place));
  }

 private:
  SwingView view_ = test::drawn_view();
  std::vector<ArmCrop> crops_ = test::drawn_crops();
  std::vector<double> theta_rad_;
  cv::Mat behind_;
  BodyTemplate body_;
};

/// Between the hub and the head the bar has nothing but its two straight edges.
bool is_shaft(const CellShift& cell) {
  return cell.body_px.y() > 25.0 && cell.body_px.y() < 85.0;
}

}  // namespace

TEST_CASE("the arm's look is nothing beside it and opaque inside", "[tracking][synthetic]") {
  const KnownBar bar;
  for (int bx = -24; bx <= 24; ++bx) {
    for (const int by : {30, 50, 70}) {
      const cv::Point2d at = bar.body().pixel_of(bx, by);
      const float cover = bar.body().cover.at<float>(int(at.y), int(at.x));
      CAPTURE(bx, by);
      // The bar is 14 px wide there; smoothing and its ramp take six pixels.
      if (std::abs(bx) > 13) CHECK(cover == 0.0F);
      if (std::abs(bx) < 2) CHECK(cover == 1.0F);
    }
  }
}

TEST_CASE("a cell on a straight edge says nothing along it", "[tracking][synthetic]") {
  const KnownBar bar;
  std::size_t cells = 0;
  for (std::size_t k = 12; k < bar.frames(); k += 5) {
    for (const CellShift& cell : bar.registered(k)) {
      if (!is_shaft(cell)) continue;
      ++cells;
      const double trace = cell.information.trace();
      // Of one rank but for rounding: the determinant is a difference of two squares.
      CHECK_THAT(cell.information.determinant() / (trace * trace), test::to_rounding(0.0, 64));
    }
  }
  REQUIRE(cells > 50);
}

TEST_CASE("a shift of half a pixel is answered in one step, not by half",
          "[tracking][synthetic]") {
  const KnownBar bar;
  constexpr double kOff_rad = 0.006;  // half a pixel at the end of the shaft
  double found = 0.0, true_squares = 0.0;
  for (std::size_t k = 12; k < bar.frames(); k += 5) {
    for (const CellShift& cell : bar.registered(k, kOff_rad)) {
      if (!is_shaft(cell)) continue;
      // Turning back by kOff moves the cell across the arm by this.
      const double shift_px = -kOff_rad * cell.body_px.y();
      found += shift_px * bar.turned_px(k, kOff_rad, cell);
      true_squares += shift_px * shift_px;
    }
  }
  // A linear step over an edge a pixel wide falls short of half a pixel; weights taken where no
  // shift has happened lost three tenths. Two steps leave an eighth, three a hundredth.
  CHECK_THAT(found / true_squares, test::to_truncation(1.0, 0.1));
}
