// SPDX-License-Identifier: Apache-2.0
#include "tracking/cell_registration.h"

#include "core/median.h"
#include "imaging/between_pixels.h"
#include "tracking/dot_centre.h"
#include "tracking/frame_model.h"
#include "tracking/solve_cell.h"

#include <algorithm>
#include <cmath>
#include <optional>

namespace swingloss {
namespace {

using Eigen::Vector2d;

/// A linear step reaches no further than this.
Vector2d within_reach(const Vector2d& shift_px) {
  constexpr double kReach_px = 6.0;
  const double length = shift_px.norm();
  return length > kReach_px ? Vector2d(shift_px * (kReach_px / length)) : shift_px;
}

/// Place of the crop's first pixel in the picture.
Vector2d crop_origin(const ArmCrop& crop) {
  return {double(crop.offset_px.x), double(crop.offset_px.y)};
}

using PixelsByCell = std::vector<std::vector<CellPixel>>;

/// The pixels of one frame against the model. Keeps references.
class FrameReader {
 public:
  FrameReader(const BodyTemplate& body,
              const FrameStart& start,
              const RegistrationOptions& options)
      : body_(body),
        start_(start),
        options_(options),
        model_(body, start, options.exposure_s),
        side_(start.view, body.thickness_px) {}

  /// All telling pixels and flat ones beside them: these say what the light is on either side
  /// of an edge, without which a shift and a change of the light look alike.
  [[nodiscard]] PixelsByCell read() const {
    PixelsByCell cells(std::size_t(body_.cell_count()));
    for (int row = 0; row < start_.crop.luma.rows; row += options_.stride) read_row(row, cells);
    return cells;
  }

  /// The same pixels as they would be explained by an arm that lies by `shift_px` off.
  [[nodiscard]] std::vector<CellPixel> shifted(const std::vector<CellPixel>& pixels,
                                               const Vector2d& shift_px) const {
    std::vector<CellPixel> out;
    out.reserve(pixels.size());
    for (const CellPixel& p : pixels) {
      const Vector2d at = p.pixel.cast<double>();
      const PixelModel m = model_.at(at - shift_px, double(p.under));
      if (!m.valid) continue;
      out.emplace_back(
          m, at, double(p.seen), double(p.under), side_.px_at(at - shift_px, m.outward));
    }
    return out;
  }

 private:
  void read_row(int row, PixelsByCell& cells) const {
    const ArmCrop& crop = start_.crop;
    const Vector2d first = crop_origin(crop) + Vector2d(0.0, row);
    const TellingRow telling = model_.telling_row(first);
    for (int column = 0; column < crop.luma.cols; column += options_.stride) {
      if (const int away = telling.to_next(column)) {
        column += (away - 1) / options_.stride * options_.stride;
        continue;
      }
      const Vector2d at(first.x() + column, first.y());
      const double under = between_pixels(start_.background, at.x(), at.y());
      const PixelModel m = model_.at(at, under);
      if (!m.valid) continue;
      const int cell = body_.cell_of(m.body.x(), m.body.y());
      if (cell < 0) continue;
      cells[std::size_t(cell)].emplace_back(
          m, at, double(crop.luma.at<uchar>(row, column)), under, side_.px_at(at, m.outward));
    }
  }

  const BodyTemplate& body_;
  const FrameStart& start_;
  const RegistrationOptions& options_;
  FrameModel model_;
  VisibleSide side_;
};

/// A step, and further ones about the place that it leads to: an edge is a pixel or two wide,
/// and a linear step over it falls short.
std::optional<CellShift> shift_of_cell(const FrameReader& reader,
                                       const std::vector<CellPixel>& pixels,
                                       const RegistrationOptions& options) {
  constexpr double kClose_px = 0.15;
  constexpr int kMostSteps = 3;
  std::optional<CellShift> now = step_of_cell(pixels, options);
  if (!now) return std::nullopt;
  now->pixel = within_reach(now->pixel);
  double step_px = now->pixel.norm();
  for (int step = 1; step < kMostSteps && step_px >= kClose_px; ++step) {
    std::optional<CellShift> next = step_of_cell(reader.shifted(pixels, now->pixel), options);
    if (!next) break;
    step_px = next->pixel.norm();
    next->pixel = within_reach(now->pixel + next->pixel);
    now = next;
  }
  return now;
}

/// The dot's own centre near where the template found it.
/// \param near_px  that place, in the picture
std::optional<DotCentre> centre_of_dot(const BodyTemplate& body,
                                       const ArmCrop& crop,
                                       const Vector2d& near_px,
                                       const RoundDot& dot) {
  if (dot.window_px <= 0.0) return std::nullopt;
  const Vector2d place = near_px - crop_origin(crop);
  const int room_px = int(std::ceil(2.0 * dot.window_px)) + 4;
  const cv::Point middle(int(std::lround(place.x())), int(std::lround(place.y())));
  const cv::Rect patch = cv::Rect(middle - cv::Point(room_px, room_px),
                                  cv::Size(2 * room_px + 1, 2 * room_px + 1)) &
                         cv::Rect({}, crop.luma.size());
  if (patch.empty()) return std::nullopt;
  const Vector2d patch_px(patch.x, patch.y);
  auto centre =
      dot_centre(body.curve.light_of(crop.luma(patch)), {place - patch_px, dot.window_px});
  if (centre) centre->pixel += patch_px + crop_origin(crop);
  return centre;
}

/// Puts the centre in the place of what the template says of the dot.
void take_centre(const RoundDot& dot, const DotCentre& centre, CellShift& shift) {
  shift.centred = true;
  shift.body_px = {dot.bx_px, dot.by_px};
  shift.pixel = centre.pixel;
  shift.information = Eigen::Matrix2d::Identity() / (centre.u_px * centre.u_px);
  shift.side_px = shift.shade = 0.0;
  shift.weight = 1.0;
}

FrameAgreement agreement_of(const PixelsByCell& cells, const RegistrationOptions& options) {
  std::vector<float> misfits;
  double believed = 0.0, total = 1e-9;
  for (const std::vector<CellPixel>& pixels : cells) {
    for (const CellPixel& p : pixels) {
      // Flat pixels say nothing of place.
      if (p.slope2 >= 0.25F) misfits.push_back(std::abs(p.misfit()));
      believed += double(p.slope2) * double(believed_part(p, p.misfit(), options));
      total += double(p.slope2);
    }
  }
  return {1.48 * double(median_of(std::move(misfits))), believed / total};
}

}  // namespace

FrameRegistration register_frame(const BodyTemplate& body,
                                 const FrameStart& start,
                                 const RegistrationOptions& options) {
  const FrameReader reader(body, start, options);
  const PixelsByCell cells = reader.read();
  FrameRegistration out;
  out.agreement = agreement_of(cells, options);
  const TurnedView turned(start.view, start.theta_rad, start.crop.omega_rad_per_s);
  for (std::size_t cell = 0; cell < cells.size(); ++cell) {
    std::optional<CellShift> shift = shift_of_cell(reader, cells[cell], options);
    if (!shift) continue;
    shift->cell = int(cell);
    const double depth_px = body.cell_depth_px[cell];
    const Vector2d moved_px = shift->pixel;
    shift->pixel += turned.pixel_of({shift->body_px.x(), shift->body_px.y(), depth_px});
    if (options.centre_dots && body.is_dot(int(cell))) {
      const RoundDot& dot = body.dots[std::size_t(body.dot_of(int(cell)))];
      const Vector2d near_px = turned.pixel_of({dot.bx_px, dot.by_px, depth_px}) + moved_px;
      const auto centre = centre_of_dot(body, start.crop, near_px, dot);
      if (centre) take_centre(dot, *centre, *shift);
    }
    out.cells.push_back(*shift);
  }
  return out;
}

FrameAgreement agreement_of_frame(const BodyTemplate& body,
                                  const FrameStart& start,
                                  const RegistrationOptions& options) {
  return agreement_of(FrameReader(body, start, options).read(), options);
}

}  // namespace swingloss
