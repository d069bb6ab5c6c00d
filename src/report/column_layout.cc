// SPDX-License-Identifier: Apache-2.0
#include "report/column_layout.h"

#include "core/number_text.h"
#include "report/escape.h"

#include <algorithm>

namespace swingloss {
namespace {

constexpr double kGap = 0.7;          ///< between blocks, in columns
constexpr double kLetter = 0.56;      ///< usual width of a letter, in fonts
constexpr double kLabelSize = 0.8;    ///< in fonts
constexpr std::size_t kLongest = 18;  ///< letters of a label

std::string screen(double at) { return "screen " + fixed_text(at, 5); }

std::string first(double value) { return "first " + number_text(value); }

std::size_t longest_label(const std::vector<ColumnBlock>& blocks) {
  std::size_t most = 1;
  for (const ColumnBlock& block : blocks) {
    for (const std::string& label : block.labels)
      most = std::max(most, length_in_code_points(shortened(label, kLongest)));
  }
  return most;
}

/// Labels that would run into one another even upright are left out.
bool labels_fit(const ColumnLayout& layout) {
  return column_width_px(layout) >= 0.9 * kLabelSize * layout.canvas.font_px;
}

std::string label_of(const Canvas& canvas, const std::string& words, double x) {
  if (words.empty()) return {};
  const std::string text = script_name(canvas, shortened(words, kLongest));
  return (text + " ").append(number_text(x));
}

std::string labels(const ColumnLayout& layout) {
  std::string list;
  for (std::size_t b = 0; b < layout.blocks.size() && labels_fit(layout); ++b) {
    for (std::size_t c = 0; c < layout.x[b].size(); ++c) {
      const std::string label =
          label_of(layout.canvas, layout.blocks[b].labels[c], layout.x[b][c]);
      if (!label.empty()) list += (list.empty() ? "" : ", ") + label;
    }
  }
  if (list.empty()) return "unset xtics\n";
  const double px = kLabelSize * layout.canvas.font_px;
  const double size = layout.canvas.kind == CanvasKind::Png ? 0.75 * px : px;
  return "set xtics nomirror scale 0 " +
         std::string(layout.upright ? "rotate by 90 right " : "norotate center ") + "font \"," +
         fixed_text(size, 2) + "\" textcolor " + script_colour(kInk) + " (" + list + ")\n";
}

/// One line above a block, as large as its room allows. \param above_em  above the plot, in
/// fonts
std::string line_above(const ColumnLayout& layout,
                       std::size_t block,
                       const std::string& words,
                       double above_em,
                       const TextStyle& style) {
  const std::vector<double>& x = layout.x[block];
  const double px = (x.back() - x.front() + 1.0 + 0.6 * kGap) * column_width_px(layout);
  const double letter = (style.bold ? 1.1 : 1.0) * kLetter * layout.canvas.font_px;
  const double room = px / letter;  // in letters of full size
  const auto letters = static_cast<double>(length_in_code_points(words));
  if (letters == 0.0) return {};
  const double smallest = std::min(0.72, style.size_in_fonts);
  const double size = std::clamp(room / letters, smallest, style.size_in_fonts);
  const auto fitting = static_cast<std::size_t>(room / size);
  if (fitting < 3) return {};
  return script_label(
      layout.canvas,
      shortened(words, fitting),
      {first(0.5 * (x.front() + x.back())),
       screen(layout.top + above_em * layout.canvas.font_px / layout.canvas.height_px),
       "center"},
      {size, style.bold, style.colour});
}

/// Words in the material's colour would be too faint on light ground for some [WCAG2 1.4.3].
std::string heading_of(const ColumnLayout& layout, std::size_t block) {
  const ColumnBlock& words = layout.blocks[block];
  const double first_em = layout.has_second ? 1.75 : 0.8;
  return line_above(layout, block, words.heading, first_em, kStrong) +
         line_above(layout, block, words.second, 0.7, kSmall);
}

}  // namespace

double column_width_px(const ColumnLayout& layout) {
  return (layout.right - layout.left) * layout.canvas.width_px / layout.span;
}

double plot_height_px(const ColumnLayout& layout) {
  return (layout.top - layout.bottom) * layout.canvas.height_px;
}

ColumnLayout lay_out_columns(const std::vector<ColumnBlock>& blocks,
                             const std::pair<double, double>& shown,
                             const Canvas& canvas) {
  ColumnLayout layout;
  layout.canvas = canvas;
  layout.blocks = blocks;
  double at = 0.5 + 0.5 * kGap;
  for (const ColumnBlock& block : blocks) {
    layout.x.emplace_back();
    for (std::size_t c = 0; c < block.labels.size(); ++c, at += 1.0)
      layout.x.back().push_back(at);
    at += kGap;
  }
  layout.span = at - 0.5 - 0.5 * kGap;
  const bool stands_alone = canvas.kind != CanvasKind::SvgInline;
  const double em_x = canvas.font_px / canvas.width_px;
  const double em_y = canvas.font_px / canvas.height_px;
  layout.left = edge_of(canvas) + 5.2 * em_x;
  layout.right = 1.0 - edge_of(canvas);
  layout.has_second = std::any_of(blocks.begin(), blocks.end(), [](const ColumnBlock& block) {
    return !block.second.empty();
  });
  const double head_em = layout.has_second ? 1.0 : 0.0;
  layout.top = 1.0 - (head_em + (stands_alone ? 6.0 : 2.0)) * em_y;
  const double longest_px =
      static_cast<double>(longest_label(blocks)) * kLetter * kLabelSize * canvas.font_px;
  layout.upright = longest_px > 0.95 * column_width_px(layout);
  const double label_px = layout.upright ? longest_px : kLabelSize * canvas.font_px;
  layout.bottom = (stands_alone ? 3.0 : 1.1) * em_y + label_px / canvas.height_px;
  const auto [smallest, largest] = shown;
  layout.y_min = 1.08 * smallest;
  layout.y_max = 1.12 * largest;
  return layout;
}

std::string column_axes(const ColumnLayout& layout, const std::string& words) {
  const auto margin = [](const char* side, double at) {
    return std::string("set ") + side + "margin at screen " + fixed_text(at, 5) + "\n";
  };
  std::string script = margin("l", layout.left) + margin("r", layout.right) +
                       margin("t", layout.top) + margin("b", layout.bottom);
  script += "set xrange [0:" + number_text(layout.span) + "]\nset yrange [" +
            number_text(layout.y_min) + ":" + number_text(layout.y_max) +
            "]\nset ytics nomirror scale 0 textcolor " + script_colour(kMuted) +
            "\nset grid noxtics ytics back linewidth 1 linetype 1 linecolor " +
            script_colour(kRule) + "\nset ylabel " + gnuplot_string(words) + " textcolor " +
            script_colour(kMuted) + "\n" + labels(layout);
  for (std::size_t b = 0; b < layout.blocks.size(); ++b) {
    script += heading_of(layout, b);
    if (b == 0) continue;
    const std::string x = first(layout.x[b].front() - 0.5 - 0.5 * kGap);
    script += "set arrow from " + x + ", graph 0 to ";
    script += x + ", graph 1 nohead back linewidth 1 linecolor " + script_colour(kRule) + "\n";
  }
  return script;
}

}  // namespace swingloss
