// SPDX-License-Identifier: Apache-2.0
#include "report/face_view.h"

#include "core/number_text.h"

#include <algorithm>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

using Eigen::Vector2d;

constexpr int kFont = cv::FONT_HERSHEY_DUPLEX;
const cv::Scalar kOutline(230, 150, 40), kBroken(30, 130, 245), kDark(20, 20, 20),
    kLighter(255, 255, 255), kGlint(60, 240, 255), kSpeck(120, 230, 90), kLines(250, 230, 90),
    kSides(220, 110, 230), kLip(60, 60, 235);

/// The cut of the photograph that shows one face, and where its pixels go.
struct View {
  cv::Mat picture;
  double scale = 1.0;
  Vector2d offset{0.0, 0.0};
  [[nodiscard]] cv::Point at(const Vector2d& px) const {
    const Vector2d p = scale * (px - offset);
    return {int(std::lround(p.x())), int(std::lround(p.y()))};
  }
};

View view_of(const cv::Mat& photo, const Polygon& outline, const cv::Size& box) {
  Vector2d low = outline.front();
  Vector2d high = low;
  for (const Vector2d& p : outline) {
    low = low.cwiseMin(p);
    high = high.cwiseMax(p);
  }
  const Vector2d middle = (low + high) / 2.0;
  const Vector2d size = 1.3 * (high - low);
  View view;
  view.scale =
      std::min(box.width / std::max(8.0, size.x()), box.height / std::max(8.0, size.y()));
  view.offset = middle - Vector2d(box.width, box.height) / (2.0 * view.scale);
  const cv::Matx23d to_view(view.scale,
                            0.0,
                            -view.scale * view.offset.x(),
                            0.0,
                            view.scale,
                            -view.scale * view.offset.y());
  cv::Mat source = photo;
  if (view.scale < 0.7) cv::GaussianBlur(photo, source, {}, 0.4 / view.scale);
  cv::warpAffine(source,
                 view.picture,
                 to_view,
                 box,
                 cv::INTER_CUBIC,
                 cv::BORDER_CONSTANT,
                 cv::Scalar(90, 90, 90));
  return view;
}

void draw_line(
    View& view, const Polygon& line, const cv::Scalar& colour, int width, bool closed) {
  std::vector<cv::Point> points;
  for (const Vector2d& p : line) points.push_back(view.at(p));
  cv::polylines(view.picture, points, closed, kDark, width + 2, cv::LINE_AA);
  cv::polylines(view.picture, points, closed, colour, width, cv::LINE_AA);
}

void draw_dashed(View& view, const Polygon& polygon) {
  constexpr double kDash_px = 9.0;
  for (std::size_t i = 0; i < polygon.size(); ++i) {
    const cv::Point2d a = view.at(polygon[i]);
    const cv::Point2d b = view.at(polygon[(i + 1) % polygon.size()]);
    const double length = cv::norm(b - a);
    const auto dashes = static_cast<int>(std::ceil(length / (2.0 * kDash_px)));
    for (int dash = 0; dash < dashes; ++dash) {
      const double s = dash * 2.0 * kDash_px;
      const cv::Point2d p = a + (b - a) * (s / length);
      const cv::Point2d q = a + (b - a) * (std::min(length, s + kDash_px) / length);
      cv::line(view.picture, p, q, kDark, 3, cv::LINE_AA);
      cv::line(view.picture, p, q, cv::Scalar(255, 255, 255), 1, cv::LINE_AA);
    }
  }
}

void write_on_photo(cv::Mat& picture, const std::string& text, cv::Point at) {
  cv::putText(picture, text, at, kFont, 0.7, kDark, 4, cv::LINE_AA);
  cv::putText(picture, text, at, kFont, 0.7, cv::Scalar(255, 255, 255), 1, cv::LINE_AA);
}

void draw_scale_bar(View& view, const CardFacts& card) {
  const double px_per_mm = 1e-3 * card.px_per_m / card.print_ratio * view.scale;
  const double mm = px_per_mm * 5.0 < 0.4 * view.picture.cols ? 5.0 : 1.0;
  const int length = int(std::lround(mm * px_per_mm));
  const cv::Point from(24, view.picture.rows - 28);
  cv::rectangle(
      view.picture, cv::Rect(from.x - 2, from.y - 2, length + 4, 12), kDark, cv::FILLED);
  cv::rectangle(
      view.picture, cv::Rect(from.x, from.y, length, 8), cv::Scalar(255, 255, 255), cv::FILLED);
  write_on_photo(view.picture, fixed_text(mm, 0) + " mm", {from.x, from.y - 10});
}

void draw_notch_arrow(View& view, const FaceMeasures& face) {
  if (!face.notch_found) return;
  const Vector2d root = (face.broken_px[0] + face.broken_px[1]) / 2.0;
  const Vector2d far = (face.broken_px[2] + face.broken_px[3]) / 2.0;
  const cv::Point from = view.at(root + 0.06 * (far - root));
  const cv::Point to = view.at(root + 0.22 * (far - root));
  cv::arrowedLine(view.picture, from, to, kDark, 5, cv::LINE_AA, 0, 0.3);
  cv::arrowedLine(view.picture, from, to, kBroken, 2, cv::LINE_AA, 0, 0.3);
}

/// Small and thin, so that the face stays to be seen.
void draw_marks(View& view, const FaceMeasures& face) {
  for (const Polygon& glint : face.marks.glints_px) {
    std::vector<cv::Point> points;
    for (const Vector2d& p : glint) points.push_back(view.at(p));
    cv::polylines(view.picture, points, true, kGlint, 1, cv::LINE_AA);
  }
  for (const Vector2d& speck : face.marks.specks_px)
    cv::circle(view.picture, view.at(speck), 4, kSpeck, 1, cv::LINE_AA);
  for (const Polygon& line : face.marks.lines_px) draw_line(view, line, kLines, 1, false);
  for (const Polygon& side : face.marks.sides_px) {
    std::vector<cv::Point> points;
    for (const Vector2d& p : side) points.push_back(view.at(p));
    cv::polylines(view.picture, points, false, kSides, 1, cv::LINE_AA);
  }
  if (!face.marks.lip_px.empty()) draw_line(view, face.marks.lip_px, kLip, 2, true);
  if (face.shear && !face.shear->flat_px.empty())
    draw_line(view, face.shear->flat_px, kLighter, 2, true);
}

}  // namespace

Still picture_of_face(const FacePhoto& photo,
                      const FaceMeasures& face,
                      int width_px,
                      int height_px) {
  View view = view_of(photo.still.bgr, face.outline_px, {width_px, height_px});
  draw_line(view, face.outline_px, kOutline, 2, true);
  draw_line(view, face.broken_px, kBroken, 2, true);
  for (const Polygon& part : face.light_px) draw_dashed(view, part);
  draw_marks(view, face);
  draw_notch_arrow(view, face);
  if (photo.measured.card) draw_scale_bar(view, *photo.measured.card);
  Still still;
  still.bgr = view.picture;
  return still;
}

void draw_legend(Still& plate, int left_px, int base_px) {
  struct Entry {
    const char* words;
    cv::Scalar colour;
  };
  const Entry entries[] = {{"bar's end", kOutline},
                           {"what broke", kBroken},
                           {"its long sides", kSides},
                           {"lighter part (dashed)", kLighter},
                           {"glints", kGlint},
                           {"specks", kSpeck},
                           {"way of even lines", kLines},
                           {"lip", kLip}};
  int x = left_px;
  for (const Entry& entry : entries) {
    cv::rectangle(plate.bgr, cv::Rect(x, base_px - 14, 22, 16), kDark, cv::FILLED);
    cv::line(
        plate.bgr, {x + 2, base_px - 6}, {x + 19, base_px - 6}, entry.colour, 3, cv::LINE_AA);
    cv::putText(plate.bgr,
                entry.words,
                {x + 30, base_px},
                kFont,
                0.6,
                cv::Scalar(70, 70, 70),
                1,
                cv::LINE_AA);
    x += 60 + cv::getTextSize(entry.words, kFont, 0.6, 1, nullptr).width;
  }
}

}  // namespace swingloss
