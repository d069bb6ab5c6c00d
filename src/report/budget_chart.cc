// SPDX-License-Identifier: Apache-2.0
#include "report/budget_chart.h"

#include "core/expects.h"
#include "core/number_text.h"
#include "report/chart_texts.h"
#include "report/escape.h"
#include "report/source_families.h"
#include "report/words.h"

#include <algorithm>
#include <map>

namespace swingloss {
namespace {

constexpr const char* kScatter = "from bar to bar";
constexpr int kColumns = 3;             ///< of the legend
constexpr double kLegendLine_em = 1.5;  ///< height of a line of the legend

std::string first(double value) { return "first " + number_text(value); }

std::string screen(double at) { return "screen " + fixed_text(at, 5); }

std::vector<const GroupSummary*> groups_with_budget(const SeriesResult& series) {
  std::vector<const GroupSummary*> groups;
  if (!series.ranking) return groups;
  for (const GroupSummary& group : series.ranking->groups) {
    if (!group.budget.empty()) groups.push_back(&group);
  }
  return groups;
}

std::string legend_name(const SourceFamily& family) {
  const bool says_kind = family.is_shared && family.name != kSmallOnes;
  return says_kind ? family.name + " (shared)" : family.name;
}

double total_of(const BudgetCause& cause) {
  double total = 0.0;
  for (const double share : cause.shares) total += share;
  return total;
}

/// All causes, none joined but what the families joined.
std::vector<BudgetCause> all_causes(const std::vector<const GroupSummary*>& groups) {
  std::map<std::string, std::vector<double>> shares;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    const std::vector<SourceFamily> families = source_families(groups[g]->budget);
    double variance = 0.0;
    for (const SourceFamily& family : families) variance += family.u * family.u;
    if (!(variance > 0.0)) continue;
    for (const SourceFamily& family : families) {
      auto& row = shares[legend_name(family)];
      row.resize(groups.size(), 0.0);
      row[g] += family.u * family.u / variance;
    }
  }
  std::vector<BudgetCause> causes;
  causes.reserve(shares.size());
  for (auto& [name, row] : shares) causes.push_back({name, kMuted, std::move(row)});
  std::stable_sort(
      causes.begin(), causes.end(), [](const BudgetCause& a, const BudgetCause& b) {
        return total_of(a) > total_of(b);
      });
  return causes;
}

/// The plot's edges in screens.
struct BudgetFrame {
  Canvas canvas;
  double em_x = 0.0, em_y = 0.0;
  double bottom_em = 0.0;  ///< from the canvas's edge to the axis
  double legend_em = 0.0;  ///< to the lowest line of the legend
};

BudgetFrame frame_of(const Canvas& whole, std::size_t groups, int legend_lines) {
  const bool stands_alone = whole.kind != CanvasKind::SvgInline;
  const double legend = kLegendLine_em * legend_lines;
  BudgetFrame frame;
  frame.bottom_em = (stands_alone ? 6.2 : 4.4) + legend;
  frame.legend_em = stands_alone ? 2.6 : 0.8;
  frame.canvas =
      with_room_for(whole, groups, 2.3, frame.bottom_em + (stands_alone ? 4.8 : 0.8));
  frame.em_x = frame.canvas.font_px / frame.canvas.width_px;
  frame.em_y = frame.canvas.font_px / frame.canvas.height_px;
  return frame;
}

std::string axis_of(const BudgetFrame& frame, std::size_t groups) {
  const bool stands_alone = frame.canvas.kind != CanvasKind::SvgInline;
  const std::string muted = script_colour(kMuted);
  const auto margin = [](const char* side, double at) {
    return std::string("set ") + side + "margin at " + screen(at) + "\n";
  };
  return margin("l", edge_of(frame.canvas) + 0.5 * frame.em_x) +
         margin("r", 1.0 - 18.0 * frame.em_x) +
         margin("t", 1.0 - (stands_alone ? 4.8 : 0.8) * frame.em_y) +
         margin("b", frame.bottom_em * frame.em_y) +
         "set xtics 0, 20 nomirror scale 0 textcolor " + muted +
         "\nset xlabel \"% of the variance\" textcolor " + muted +
         "\nunset ytics\nset xrange [0:100]\nset yrange [" +
         number_text(0.3 - static_cast<double>(groups)) + ":0.7]\n";
}

std::string bar_of(double x0, double x1, double y, const Swatch& colour) {
  return "set object rectangle from " + first(x0) + ", " + first(y - 0.24) + " to " +
         first(x1) + ", " + first(y + 0.16) + " front fillcolor " + script_colour(colour) +
         " fillstyle solid 1.0 noborder\n";
}

/// The axis's lines at one row, which leave its name free.
std::string grid_behind(double y) {
  std::string script;
  for (int percent = 0; percent <= 100; percent += 20) {
    const std::string x = first(percent);
    script += "set arrow from " + x + ", " + first(y - 0.36) + " to ";
    script += x + ", " + first(y + 0.20) + " nohead back linewidth 1 linecolor ";
    script += script_colour(kRule) + "\n";
  }
  return script;
}

const char* advice_for(const std::string& cause) {
  if (cause == kScatter) return "more bars help";
  const bool shared = cause.size() > 9 && cause.compare(cause.size() - 8, 8, "(shared)") == 0;
  return shared ? "measure it better" : "improve it, or more bars";
}

std::string row_of(const GroupSummary& group,
                   std::size_t g,
                   const std::vector<BudgetCause>& causes,
                   const Canvas& canvas) {
  const double y = -static_cast<double>(g);
  std::string script =
      script_label(canvas, shortened(group.name, 44), {first(0.0), first(y + 0.34)}, kSmall);
  script += grid_behind(y);
  double x = 0.0;
  for (const BudgetCause& cause : causes) {
    const double share = 100.0 * cause.shares[g];
    if (share > 0.0) script += bar_of(x, x + share, y, cause.colour);
    x += share;
  }
  const BudgetCause& largest = *std::max_element(
      causes.begin(), causes.end(), [g](const BudgetCause& a, const BudgetCause& b) {
        return a.shares[g] < b.shares[g];
      });
  return script +
         script_label(canvas,
                      shortened(largest.name, 28) + ", " + percent_words(largest.shares[g]),
                      {first(102.0), first(y + 0.08)},
                      {0.85, true, largest.colour}) +
         script_label(
             canvas, advice_for(largest.name), {first(102.0), first(y - 0.24)}, kSmall);
}

std::string legend_of(const std::vector<BudgetCause>& causes,
                      const BudgetFrame& frame,
                      int lines) {
  std::string script;
  const double left = edge_of(frame.canvas) + 0.5 * frame.em_x;
  const double column = (1.0 - 2.0 * left) / kColumns;
  for (std::size_t i = 0; i < causes.size(); ++i) {
    const int line = static_cast<int>(i) / kColumns;
    const double x = left + column * static_cast<double>(static_cast<int>(i) % kColumns);
    const double y = (frame.legend_em + kLegendLine_em * (lines - 1 - line)) * frame.em_y;
    script += "set object rectangle from " + screen(x) + ", " + screen(y - 0.35 * frame.em_y) +
              " to " + screen(x + 0.9 * frame.em_x) + ", " + screen(y + 0.35 * frame.em_y) +
              " front fillcolor " + script_colour(causes[i].colour) +
              " fillstyle solid 1.0 noborder\n" +
              script_label(frame.canvas,
                           causes[i].name,
                           {screen(x + 1.4 * frame.em_x), screen(y)},
                           {0.8, false, kInk});
  }
  return script;
}

}  // namespace

std::vector<BudgetCause> budget_causes(const SeriesResult& series) {
  const std::vector<const GroupSummary*> groups = groups_with_budget(series);
  std::vector<BudgetCause> causes;
  BudgetCause rest{kSmallOnes, kMuted, std::vector<double>(groups.size(), 0.0)};
  std::size_t next = 0;
  for (BudgetCause& cause : all_causes(groups)) {
    if (cause.name == kScatter) {
      cause.colour = kAccent;
    } else if (cause.name == kSmallOnes || next == kMaterials.size()) {
      for (std::size_t g = 0; g < groups.size(); ++g) rest.shares[g] += cause.shares[g];
      continue;
    } else {
      cause.colour = kMaterials.at(next++);
    }
    causes.push_back(std::move(cause));
  }
  if (total_of(rest) > 0.0) causes.push_back(std::move(rest));
  return causes;
}

bool has_budgets(const SeriesResult& series) { return !groups_with_budget(series).empty(); }

int budget_legend_lines(const SeriesResult& series) {
  const auto causes = static_cast<int>(budget_causes(series).size());
  return (causes + kColumns - 1) / kColumns;
}

std::string budget_chart_script(const SeriesResult& series, const Canvas& canvas) {
  const std::vector<const GroupSummary*> groups = groups_with_budget(series);
  expects(!groups.empty(), "a chart of no budget");
  const std::vector<BudgetCause> causes = budget_causes(series);
  const int lines = budget_legend_lines(series);
  const BudgetFrame frame = frame_of(canvas, groups.size(), lines);
  ChartTexts texts;
  texts.title = "Where the doubt of each mean comes from";
  texts.subtitle =
      "Shares of the variance by cause; to the right the largest, which is worth improving "
      "next.";
  texts.footnote =
      footnote_words(series, "Shared: more bars do not help. Not an accredited test.");
  std::string script = script_head(frame.canvas) + script_texts(frame.canvas, texts) +
                       axis_of(frame, groups.size());
  if (causes.empty()) return script + "plot NaN notitle\n";
  for (std::size_t g = 0; g < groups.size(); ++g)
    script += row_of(*groups[g], g, causes, frame.canvas);
  return script + legend_of(causes, frame, lines) + "plot NaN notitle\n";
}

}  // namespace swingloss
