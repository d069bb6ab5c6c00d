// SPDX-License-Identifier: Apache-2.0
#include "report/canvas.h"

#include "core/number_text.h"
#include "report/drawable_text.h"
#include "report/escape.h"

#include <algorithm>

namespace swingloss {
namespace {

constexpr int kVideoWidth_px = 1920;

/// pngcairo counts type in points of 1/96 inch pixels: 4 px are 3 pt.
double points_of(double px) { return 0.75 * px; }

std::string font_of(const Canvas& canvas, double size_in_fonts, bool bold) {
  const std::string weight = bold ? ":Bold" : "";
  const double px = canvas.font_px * size_in_fonts;
  if (canvas.kind == CanvasKind::Png)
    return "\"Sans" + weight + "," + fixed_text(points_of(px), 1) + "\"";
  return "\"sans-serif" + weight + "," + fixed_text(px, 1) + "\"";
}

/// As much of `text` as one line takes between the edges.
std::string on_one_line(const Canvas& canvas, const std::string& text, const TextStyle& style) {
  const double letter_in_fonts = style.bold ? 0.66 : 0.56;  // of ordinary words
  const double letter_px = letter_in_fonts * style.size_in_fonts * canvas.font_px;
  return shortened(text, static_cast<std::size_t>(0.95 * canvas.width_px / letter_px));
}

}  // namespace

Canvas video_canvas() {
  return {CanvasKind::Png, kVideoWidth_px, 1080, 34.0, false, false, false};
}

Canvas uhd_canvas() {
  return {CanvasKind::Png, 2 * kVideoWidth_px, 2160, 68.0, false, false, false};
}

Canvas with_room_for(const Canvas& canvas,
                     std::size_t rows,
                     double lines_a_row,
                     double other_lines) {
  Canvas fitted = canvas;
  const double lines = lines_a_row * static_cast<double>(rows) + other_lines;
  fitted.font_px = std::min(canvas.font_px, canvas.height_px / lines);
  return fitted;
}

double edge_of(const Canvas& canvas) {
  return canvas.kind == CanvasKind::SvgInline ? 0.002 : 0.025;
}

std::string script_colour(const Swatch& swatch) {
  return std::string("rgb \"") + swatch.light + "\"";
}

std::string script_point_size(const Canvas& canvas, double times) {
  const double unit_px = canvas.kind == CanvasKind::Png ? 13.0 : 24.0;
  return fixed_text(times * canvas.font_px / unit_px, 3);
}

std::string script_head(const Canvas& canvas) {
  const std::string terminal = canvas.kind == CanvasKind::Png ? "pngcairo" : "svg";
  const bool bare = canvas.transparent || canvas.kind == CanvasKind::SvgInline;
  std::string ground = bare ? std::string() : " background " + script_colour(kPaper);
  if (canvas.kind == CanvasKind::Png) {
    // Lines as wide, against the type, as in the SVG.
    ground += std::string(canvas.transparent ? " transparent" : "") + " linewidth " +
              fixed_text(1.7 * canvas.width_px / kVideoWidth_px, 2);
  }
  return "set encoding utf8\nset terminal " + terminal + " size " +
         std::to_string(canvas.width_px) + "," + std::to_string(canvas.height_px) +
         " noenhanced font " + font_of(canvas, 1.0, false) + ground +
         (canvas.kind == CanvasKind::Png ? "" : "\nset xlabel offset 0,0.4") +
         "\nunset key\nunset title\nset border 0\nset samples 2\nset minussign\nset format "
         "\"%g\"\n";
}

std::string script_name(const Canvas& canvas, const std::string& text) {
  return gnuplot_string(canvas.kind == CanvasKind::Png ? drawable_text(text) : text);
}

std::string script_label(const Canvas& canvas,
                         const std::string& text,
                         const TextPlace& place,
                         const TextStyle& style) {
  return "set label " + script_name(canvas, text) + " at " + place.x + ", " + place.y + " " +
         place.align + " noenhanced front font " +
         font_of(canvas, style.size_in_fonts, style.bold) + " textcolor " +
         script_colour(style.colour) + "\n";
}

std::string script_texts(const Canvas& canvas, const ChartTexts& texts) {
  if (canvas.kind == CanvasKind::SvgInline) return {};
  const double line = canvas.font_px / canvas.height_px;
  const auto at = [](double y) {
    return TextPlace{"screen 0.025", "screen " + fixed_text(y, 5), "left"};
  };
  const TextStyle heading{1.35, true, kInk};
  const TextStyle footnote{0.66, false, kMuted};
  const auto words = [&](const std::string& text, double y, const TextStyle& style) {
    return script_label(canvas, on_one_line(canvas, text, style), at(y), style);
  };
  return words(texts.title, 1.0 - 1.6 * line, heading) +
         words(texts.subtitle, 1.0 - 3.0 * line, kSmall) +
         words(texts.footnote, line, footnote);
}

std::string script_data(const std::string& name, const std::vector<std::vector<double>>& rows) {
  std::string block = "$" + name + " << END\n";
  for (const std::vector<double>& row : rows) {
    for (std::size_t i = 0; i < row.size(); ++i)
      block += (i == 0 ? "" : " ") + number_text(row[i]);
    block += "\n";
  }
  return block + "END\n";
}

}  // namespace swingloss
