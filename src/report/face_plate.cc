// SPDX-License-Identifier: Apache-2.0
#include "report/face_plate.h"

#include "core/number_text.h"
#include "report/drawing.h"
#include "report/face_view.h"
#include "report/face_words.h"
#include "report/palette.h"
#include "series/surface_json.h"
#include "surface/judge.h"

#include <algorithm>
#include <array>
#include <cmath>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

constexpr int kWidth_px = 1920, kRow_px = 640, kPicture_px = 900, kTitle_px = 70;
constexpr int kGap_px = 20, kLegend_px = 40;
constexpr int kFont = cv::FONT_HERSHEY_DUPLEX;

void write(cv::Mat& picture,
           const std::string& text,
           cv::Point at,
           double size,
           const cv::Scalar& colour) {
  cv::putText(picture, text, at, kFont, size, colour, 1, cv::LINE_AA);
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
      face_words::lighter_part(a),
      "roughness fine / middle / coarse " + n(a.roughness[0]) + " / " + n(a.roughness[1]) +
          " / " + n(a.roughness[2]),
      "edges rougher by " + n(a.edge_rougher) + ", uneven by " + n(a.roughness_spread),
      "glints " + face_words::percent(a.glint_share) + ", specks " + fixed_text(a.speckles, 1) +
          ", edge dimension " + n(a.edge_dimension)};
  if (a.contraction && a.swelling) {
    lines.push_back("drawn in at the notch " + fixed_text(100.0 * *a.contraction, 1) +
                    " %, swollen at the far side " + fixed_text(100.0 * *a.swelling, 1) + " %");
  }
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

/// The face in a grid as it is rough: dark is rougher, over a factor of e.
void draw_grid(cv::Mat& plate, const SeenMarks& marks, cv::Point at) {
  constexpr int kTile_px = 34;
  const auto [low, high] =
      std::minmax_element(marks.tile_roughness.begin(), marks.tile_roughness.end());
  const double middle = (*low + *high) / 2.0;
  for (std::size_t i = 0; i < 16; ++i) {
    const double dark = std::clamp(marks.tile_roughness[i] - middle + 0.5, 0.0, 1.0);
    const double level = 235.0 - 190.0 * dark;
    const cv::Rect tile(
        at.x + int(i % 4) * kTile_px, at.y + int(i / 4) * kTile_px, kTile_px - 1, kTile_px - 1);
    cv::rectangle(plate, tile, cv::Scalar(level, level, level), cv::FILLED);
  }
  write(plate, "dark: rougher", {at.x, at.y + 4 * kTile_px + 20}, 0.55, colour_of(kMuted));
}

/// What the faces say of layers and of the way the bar came apart.
std::vector<std::string> story_lines(const SurfaceMeasurement& photo,
                                     std::size_t index,
                                     const std::string& orientation) {
  const FaceMeasures& face = photo.faces[index];
  std::vector<std::string> lines = {face_words::layers(read_layers(face, orientation))};
  for (const HalfPair& pair : photo.pairs) {
    if (pair.first != index && pair.second != index) continue;
    const std::size_t other = pair.first == index ? pair.second : pair.first;
    lines.push_back("with face " + std::to_string(other + 1) + ": " +
                    face_words::break_type(suggest_break(faces_of(photo, pair), true)));
  }
  if (face.parting.joined)
    lines.push_back(face_words::break_type(suggest_break({&face}, false)));
  if (face.shear) lines.push_back(face_words::shear(*face.shear));
  return lines;
}

void draw_texts(cv::Mat& plate,
                const SurfaceMeasurement& photo,
                std::size_t index,
                const std::string& orientation,
                int top) {
  const FaceMeasures& face = photo.faces[index];
  const std::string head = photo.photo.substr(photo.photo.find_last_of("/\\") + 1) + ", face " +
                           std::to_string(index + 1);
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
    y += 29;
  }
  for (const std::string& story : story_lines(photo, index, orientation)) {
    for (const std::string& line : folded(story, 74)) {
      write(plate, line, {left, y}, 0.62, colour_of(kInk));
      y += 25;
    }
  }
  draw_grid(plate, face.marks, {kWidth_px - 160, top + 200});
}

}  // namespace

FacePlate draw_face_plate(const std::vector<FacePhoto>& photos,
                          const FacePlateOptions& options) {
  std::size_t rows = 0;
  for (const FacePhoto& photo : photos) rows += photo.measured.faces.size();
  if (rows == 0) return {};
  const int head_px = options.title.empty() && options.stamp.empty() ? 0 : kTitle_px;
  cv::Mat plate(head_px + int(rows) * (kRow_px + kGap_px) + kLegend_px,
                kWidth_px,
                CV_8UC3,
                colour_of(kPaper));
  write(plate, options.title, {24, 46}, 1.1, colour_of(kInk));
  write(plate, options.stamp, {kPicture_px + 40, 46}, 0.85, colour_of(kWarm));
  int top = head_px;
  for (const FacePhoto& photo : photos) {
    for (std::size_t i = 0; i < photo.measured.faces.size(); ++i) {
      const FaceMeasures& face = photo.measured.faces[i];
      picture_of_face(photo, face, kPicture_px, kRow_px)
          .bgr.copyTo(plate(cv::Rect(0, top, kPicture_px, kRow_px)));
      draw_texts(plate, photo.measured, i, options.orientation, top);
      top += kRow_px + kGap_px;
    }
  }
  Still still;
  still.bgr = plate;
  draw_legend(still, 24, plate.rows - 16);
  return encoded_plate(still);
}

FacePlate encoded_plate(const Still& bgr) {
  cv::Mat half;
  cv::resize(bgr.bgr, half, {}, 0.5, 0.5, cv::INTER_AREA);
  return {png_bytes(bgr.bgr), jpeg_bytes(half, 82)};
}

Still draw_face(const FacePhoto& photo, const FaceMeasures& face) {
  return picture_of_face(photo, face, kPicture_px, kRow_px);
}

}  // namespace swingloss
