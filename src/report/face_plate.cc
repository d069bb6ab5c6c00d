// SPDX-License-Identifier: Apache-2.0
#include "report/face_plate.h"

#include "core/number_text.h"
#include "report/drawing.h"
#include "report/face_words.h"
#include "report/palette.h"
#include "surface/judge.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

using Eigen::Vector2d;

constexpr int kWidth_px = 1920, kRow_px = 640, kPicture_px = 900, kTitle_px = 70;
constexpr int kFont = cv::FONT_HERSHEY_DUPLEX;
const cv::Scalar kOutline(230, 150, 40), kBroken(30, 130, 245), kDark(20, 20, 20);

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

View view_of(const cv::Mat& photo, const Polygon& outline) {
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
      std::min(kPicture_px / std::max(8.0, size.x()), kRow_px / std::max(8.0, size.y()));
  view.offset = middle - Vector2d(kPicture_px, kRow_px) / (2.0 * view.scale);
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
                 {kPicture_px, kRow_px},
                 cv::INTER_CUBIC,
                 cv::BORDER_CONSTANT,
                 cv::Scalar(90, 90, 90));
  return view;
}

void draw_closed(View& view, const Polygon& polygon, const cv::Scalar& colour, int width) {
  std::vector<cv::Point> points;
  for (const Vector2d& p : polygon) points.push_back(view.at(p));
  cv::polylines(view.picture, points, true, kDark, width + 2, cv::LINE_AA);
  cv::polylines(view.picture, points, true, colour, width, cv::LINE_AA);
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

void write(cv::Mat& picture,
           const std::string& text,
           cv::Point at,
           double size,
           const cv::Scalar& colour) {
  cv::putText(picture, text, at, kFont, size, colour, 1, cv::LINE_AA);
}

void write_on_photo(cv::Mat& picture, const std::string& text, cv::Point at) {
  cv::putText(picture, text, at, kFont, 0.7, kDark, 4, cv::LINE_AA);
  cv::putText(picture, text, at, kFont, 0.7, cv::Scalar(255, 255, 255), 1, cv::LINE_AA);
}

void draw_scale_bar(View& view, const CardFacts& card) {
  const double px_per_mm = 1e-3 * card.px_per_m / card.print_ratio * view.scale;
  const double mm = px_per_mm * 5.0 < 0.4 * kPicture_px ? 5.0 : 1.0;
  const int length = int(std::lround(mm * px_per_mm));
  const cv::Point from(24, kRow_px - 28);
  cv::rectangle(
      view.picture, cv::Rect(from.x - 2, from.y - 2, length + 4, 12), kDark, cv::FILLED);
  cv::rectangle(
      view.picture, cv::Rect(from.x, from.y, length, 8), cv::Scalar(255, 255, 255), cv::FILLED);
  write_on_photo(view.picture, fixed_text(mm, 0) + " mm", {from.x, from.y - 10});
}

View picture_of(const FacePhoto& photo, const FaceMeasures& face) {
  View view = view_of(photo.still.bgr, face.outline_px);
  draw_closed(view, face.outline_px, kOutline, 2);
  draw_closed(view, face.broken_px, kBroken, 2);
  for (const Polygon& part : face.light_px) draw_dashed(view, part);
  if (face.notch_found) {
    const Vector2d root = (face.broken_px[0] + face.broken_px[1]) / 2.0;
    const Vector2d far = (face.broken_px[2] + face.broken_px[3]) / 2.0;
    const cv::Point from = view.at(root + 0.06 * (far - root));
    const cv::Point to = view.at(root + 0.22 * (far - root));
    cv::arrowedLine(view.picture, from, to, kDark, 5, cv::LINE_AA, 0, 0.3);
    cv::arrowedLine(view.picture, from, to, kBroken, 2, cv::LINE_AA, 0, 0.3);
  }
  if (photo.measured.card) draw_scale_bar(view, *photo.measured.card);
  return view;
}

std::vector<std::string> size_lines(const FaceMeasures& face) {
  if (!face.section) return {"no sizes: no scale, or refused (see remarks)"};
  return {face_words::sides(face, "   "),
          "section that broke " + face_words::with_u(face.section->area_m2, 1e6, "mm2") +
              (face.notch_found ? "" : "   (no root of a notch seen)")};
}

std::vector<std::string> look_lines(const Appearance& a) {
  const auto n = [](double x) { return fixed_text(x, 2); };
  std::vector<std::string> lines = {
      "lighter part " + face_words::percent(a.light_share) + ", by " +
          face_words::percent(std::expm1(a.light_step)) + ", colour off by " + n(a.chroma_drop),
      "roughness fine / middle / coarse " + n(a.roughness[0]) + " / " + n(a.roughness[1]) +
          " / " + n(a.roughness[2]),
      "edges rougher by " + n(a.edge_rougher) + ", uneven by " + n(a.roughness_spread),
      "glints " + face_words::percent(a.glint_share) + ", specks " + fixed_text(a.speckles, 1) +
          ", edge dimension " + n(a.edge_dimension),
      "drawn in at the notch " + fixed_text(100.0 * a.contraction, 1) +
          " %, swollen at the far side " + fixed_text(100.0 * a.swelling, 1) + " %"};
  if (const auto even = face_words::even_lines(a)) lines.push_back("even lines, " + *even);
  return lines;
}

void draw_probabilities(cv::Mat& plate, const Judgement& judgement, cv::Point at) {
  static constexpr std::array<FractureLook, 3> kLooks = {
      FractureLook::Brittle, FractureLook::Mixed, FractureLook::Ductile};
  constexpr int kBar_px = 420;
  for (std::size_t k = 0; k < 3; ++k) {
    const int y = at.y + int(k) * 36;
    write(plate, name_of(kLooks[k]), {at.x, y + 20}, 0.75, colour_of(kInk));
    const cv::Rect frame(at.x + 130, y, kBar_px, 24);
    cv::rectangle(plate, frame, colour_of(kRule), cv::FILLED);
    const int length = int(std::lround(kBar_px * judgement.probability[k]));
    const bool said = judgement.verdict && *judgement.verdict == kLooks[k];
    cv::rectangle(plate,
                  {frame.x, frame.y, length, frame.height},
                  colour_of(said ? kAccent : kMuted),
                  cv::FILLED);
    write(plate,
          face_words::percent(judgement.probability[k]),
          {frame.x + kBar_px + 14, y + 20},
          0.75,
          colour_of(kInk));
  }
}

/// Breaks at blanks; the drawing font has about 17 pixels a letter at 0.75.
std::vector<std::string> folded(const std::string& text, std::size_t letters) {
  std::vector<std::string> lines = {""};
  std::size_t from = 0;
  while (from < text.size()) {
    std::size_t to = std::min(text.find(' ', from), text.size());
    const std::string word = text.substr(from, to - from);
    if (!lines.back().empty() && lines.back().size() + word.size() + 1 > letters)
      lines.emplace_back();
    lines.back() += (lines.back().empty() ? "" : " ") + word;
    from = to + 1;
  }
  return lines;
}

void draw_texts(cv::Mat& plate, const FaceMeasures& face, const std::string& head, int top) {
  const int left = kPicture_px + 40;
  int y = top + 46;
  write(plate, head, {left, y}, 0.85, colour_of(kMuted));
  y += 44;
  for (const std::string& line : size_lines(face)) {
    write(plate, line, {left, y}, 0.85, colour_of(kInk));
    y += 36;
  }
  y += 14;
  const Judgement& j = face.judgement;
  write(plate,
        j.verdict ? "looks " + std::string(name_of(*j.verdict)) : "cannot tell",
        {left, y + 10},
        1.2,
        colour_of(j.verdict ? kAccent : kWarm));
  draw_probabilities(plate, j, {left, y + 32});
  y += 170;
  for (const std::string& line : folded(j.reason, 62)) {
    write(plate, line, {left, y}, 0.7, colour_of(kMuted));
    y += 30;
  }
  y += 12;
  for (const std::string& line : look_lines(face.appearance)) {
    write(plate, line, {left, y}, 0.7, colour_of(kInk));
    y += 31;
  }
}

}  // namespace

FacePlate draw_face_plate(const std::vector<FacePhoto>& photos,
                          const FacePlateOptions& options) {
  std::size_t rows = 0;
  for (const FacePhoto& photo : photos) rows += photo.measured.faces.size();
  if (rows == 0) return {};
  const int head_px = options.title.empty() && options.stamp.empty() ? 0 : kTitle_px;
  cv::Mat plate(head_px + int(rows) * (kRow_px + 20), kWidth_px, CV_8UC3, colour_of(kPaper));
  write(plate, options.title, {24, 46}, 1.1, colour_of(kInk));
  write(plate, options.stamp, {kPicture_px + 40, 46}, 0.85, colour_of(kWarm));
  int top = head_px;
  for (const FacePhoto& photo : photos) {
    for (std::size_t i = 0; i < photo.measured.faces.size(); ++i) {
      const FaceMeasures& face = photo.measured.faces[i];
      picture_of(photo, face).picture.copyTo(plate(cv::Rect(0, top, kPicture_px, kRow_px)));
      const std::string name =
          photo.measured.photo.substr(photo.measured.photo.find_last_of("/\\") + 1);
      draw_texts(plate, face, name + ", face " + std::to_string(i + 1), top);
      top += kRow_px + 20;
    }
  }
  Still still;
  still.bgr = plate;
  return encoded_plate(still);
}

FacePlate encoded_plate(const Still& bgr) {
  cv::Mat half;
  cv::resize(bgr.bgr, half, {}, 0.5, 0.5, cv::INTER_AREA);
  return {png_bytes(bgr.bgr), jpeg_bytes(half, 82)};
}

Still draw_face(const FacePhoto& photo, const FaceMeasures& face) {
  Still still;
  still.bgr = picture_of(photo, face).picture;
  return still;
}

}  // namespace swingloss
