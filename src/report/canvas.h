// SPDX-License-Identifier: Apache-2.0
/// \file canvas.h
/// What a chart is drawn on, and the first lines of every gnuplot script.
#pragma once

#include "report/palette.h"

#include <cstddef>
#include <string>
#include <vector>

namespace swingloss {

enum class CanvasKind {
  SvgFile,    ///< stands alone, paper ground
  SvgInline,  ///< goes into the page: no ground, no title of its own
  Png,        ///< stands alone, for video and slides
};

/// Size and purpose of one picture of a chart.
struct Canvas {
  CanvasKind kind = CanvasKind::SvgFile;
  int width_px = 1080, height_px = 640;
  double font_px = 17.0;
  /// Names above their rows instead of beside them, for narrow screens.
  bool narrow = false;
  /// Drawn in the colours for dark ground (report/chart_files.h).
  bool dark = false;
  /// No ground at all: what is beneath shows through.
  bool transparent = false;
};

/// 1920 x 1080.
[[nodiscard]] Canvas video_canvas();

/// 3840 x 2160: the same picture, twice as fine.
[[nodiscard]] Canvas uhd_canvas();

/// The canvas with type as small as `rows` rows of `lines_a_row` and `other_lines` around them
/// need to fit its height; never larger than it was.
[[nodiscard]] Canvas with_room_for(const Canvas& canvas,
                                   std::size_t rows,
                                   double lines_a_row,
                                   double other_lines);

/// Distance of texts from the canvas's sides, in screens: none on the page, which has its own.
[[nodiscard]] double edge_of(const Canvas& canvas);

/// What a chart that stands alone says around itself. Any text; escaped where it is used.
struct ChartTexts {
  std::string title, subtitle, footnote;
};

/// Terminal, encoding, and everything off that a chart has not asked for.
[[nodiscard]] std::string script_head(const Canvas& canvas);

/// Title, subtitle and footnote at the edges of a canvas that stands alone; nothing inline.
[[nodiscard]] std::string script_texts(const Canvas& canvas, const ChartTexts& texts);

/// How a text on the chart looks.
struct TextStyle {
  double size_in_fonts = 1.0;  ///< times the canvas's font
  bool bold = false;
  Swatch colour = kInk;
};

inline constexpr TextStyle kStrong{1.0, true, kInk};
inline constexpr TextStyle kSmall{0.8, false, kMuted};

/// Where a text stands: gnuplot coordinates such as "screen 0.02" or "first 3".
struct TextPlace {
  std::string x, y;
  std::string align = "left";  ///< left, right, center
};

/// Any text as a gnuplot string; in pictures only signs that the machine's fonts have.
[[nodiscard]] std::string script_name(const Canvas& canvas, const std::string& text);

/// One text on the chart; any text.
[[nodiscard]] std::string script_label(const Canvas& canvas,
                                       const std::string& text,
                                       const TextPlace& place,
                                       const TextStyle& style);

/// gnuplot's point size that looks the same on both terminals, `times` a usual point; as text.
[[nodiscard]] std::string script_point_size(const Canvas& canvas, double times);

/// 'rgb "#17212b"'
[[nodiscard]] std::string script_colour(const Swatch& swatch);

/// A named data block; every row is numbers, spelt exactly.
[[nodiscard]] std::string script_data(const std::string& name,
                                      const std::vector<std::vector<double>>& rows);

}  // namespace swingloss
