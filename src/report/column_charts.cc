// SPDX-License-Identifier: Apache-2.0
#include "report/column_charts.h"

#include "core/expects.h"
#include "core/joined.h"
#include "core/number_text.h"
#include "report/chart_texts.h"
#include "report/column_layout.h"
#include "report/material_colours.h"
#include "report/point_marks.h"
#include "report/ranking_layout.h"
#include "report/spread.h"
#include "report/words.h"

#include <algorithm>
#include <iterator>

namespace swingloss {
namespace {

using Groups = std::vector<const GroupSummary*>;

std::string first(double value) { return "first " + number_text(value); }

std::string setting_of(const GroupSummary& group) {
  const bool both = !group.condition.empty() && !group.orientation.empty();
  return group.condition + (both ? ", " : "") + group.orientation;
}

/// Groups in the order in which specimens.csv names them, those of one material together.
std::vector<Groups> groups_by_material(const SeriesResult& series) {
  Groups groups;
  for (const GroupSummary& group : series.ranking->groups) {
    if (!group.bars.empty()) groups.push_back(&group);
  }
  const auto first_bar = [](const GroupSummary* group) {
    return *std::min_element(group->bars.begin(), group->bars.end());
  };
  std::sort(groups.begin(), groups.end(), [&](const auto* a, const auto* b) {
    return first_bar(a) < first_bar(b);
  });
  std::vector<Groups> materials;
  for (const GroupSummary* group : groups) {
    const auto known = std::find_if(materials.begin(), materials.end(), [&](const Groups& one) {
      return one.front()->material == group->material;
    });
    if (known == materials.end()) {
      materials.push_back({group});
    } else {
      known->push_back(group);
    }
  }
  return materials;
}

Swatch colour_in(const std::map<std::string, Swatch>& colours, const std::string& material) {
  const auto known = colours.find(material);
  return known == colours.end() ? kAccent : known->second;
}

std::string mean_and_interval(const GroupSummary& group,
                              double x,
                              const ColumnLayout& layout,
                              const Swatch& colour) {
  std::string script;
  const auto inside = [&](double y) { return std::clamp(y, layout.y_min, layout.y_max); };
  const Interval& interval = group.interval;
  if (interval.low || interval.high) {
    script += "set object rectangle from " + first(x - 0.36) + ", " +
              first(inside(interval.low.value_or(layout.y_min))) + " to " + first(x + 0.36) +
              ", " + first(inside(interval.high.value_or(layout.y_max))) + " back fillcolor " +
              script_colour(colour) + " fillstyle transparent solid 0.16 noborder\n";
  }
  if (!group.mean) return script;
  return script + "set arrow from " + first(x - 0.36) + ", " + first(*group.mean) + " to " +
         first(x + 0.36) + ", " + first(*group.mean) + " nohead front linewidth 3 linecolor " +
         script_colour(colour) + "\n";
}

/// The bars of one group in one column.
void add_strip(const SeriesResult& series,
               const GroupSummary& group,
               double x,
               const ColumnLayout& layout,
               PointMarks& marks) {
  const double unit_px = plot_height_px(layout) / (layout.y_max - layout.y_min);
  Spread spread(0.75 * layout.canvas.font_px / unit_px, 0.32);
  for (const std::size_t index : group.bars) {
    const Bar& bar = series.bars.at(index).bar;
    const auto& value = quantity_of(bar, series.ranking->quantity);
    if (!value) continue;
    marks.add(bar, x + spread.place(value->value(), value->value()), value->value(), 0.0);
  }
}

std::vector<ColumnBlock> strip_blocks(const std::vector<Groups>& materials,
                                      const std::map<std::string, Swatch>& colours) {
  std::vector<ColumnBlock> blocks;
  for (const Groups& groups : materials) {
    const std::string& material = groups.front()->material;
    blocks.push_back({material, "", colour_in(colours, material), {}});
    for (const GroupSummary* group : groups) blocks.back().labels.push_back(setting_of(*group));
  }
  return blocks;
}

/// One group as a block of the chart of energies: its bars with an energy.
struct EnergyBlock {
  const GroupSummary* group = nullptr;
  std::vector<std::size_t> bars;
};

std::vector<std::size_t> bars_with_energy(const SeriesResult& series,
                                          const GroupSummary& group) {
  std::vector<std::size_t> bars;
  std::copy_if(
      group.bars.begin(), group.bars.end(), std::back_inserter(bars), [&](std::size_t index) {
        return series.bars.at(index).bar.energy_J.has_value();
      });
  return bars;
}

std::vector<EnergyBlock> energy_blocks(const SeriesResult& series) {
  std::vector<EnergyBlock> blocks;
  for (const Groups& groups : groups_by_material(series)) {
    for (const GroupSummary* group : groups) {
      const EnergyBlock block{group, bars_with_energy(series, *group)};
      if (!block.bars.empty()) blocks.push_back(block);
    }
  }
  return blocks;
}

std::pair<double, double> energies_shown(const SeriesResult& series,
                                         const std::vector<EnergyBlock>& blocks) {
  double smallest = 0.0;
  double largest = 0.0;
  for (const EnergyBlock& block : blocks) {
    for (const std::size_t index : block.bars) {
      const Uncertain& energy_J = *series.bars[index].bar.energy_J;
      smallest = std::min(smallest, energy_J.value());
      largest = std::max(
          largest, std::min(energy_J.value() + energy_J.u(), 1.5 * std::abs(energy_J.value())));
    }
  }
  return {smallest, largest > 0.0 ? largest : 1.0};
}

ChartTexts texts_of(const SeriesResult& series, const std::string& subtitle) {
  ChartTexts texts;
  texts.title = series.title;
  texts.subtitle = subtitle;
  texts.footnote =
      footnote_words(series, joined({"Not an accredited test.", rare_mark_words(series)}, " "));
  return texts;
}

/// How far the arrow of a bounded bar reaches.
double reach_of(const ColumnLayout& layout) { return 0.07 * (layout.y_max - layout.y_min); }

}  // namespace

std::string strips_chart_script(const SeriesResult& series, const Canvas& canvas) {
  expects(series.ranking && !series.ranking->groups.empty(), "strips without a ranking");
  const std::vector<Groups> materials = groups_by_material(series);
  const auto colours = material_colours(series);
  auto [smallest, largest] = values_shown(series);
  const ColumnLayout layout =
      lay_out_columns(strip_blocks(materials, colours), {smallest, largest}, canvas);
  const Quantity quantity = series.ranking->quantity;
  std::string script =
      script_head(canvas) +
      script_texts(
          canvas,
          texts_of(series,
                   "Every bar, by material and condition. Stroke: mean. Band: its " +
                       percent_words(series.ranking_options.confidence) + " interval.")) +
      column_axes(layout, title_of(quantity) + ", " + unit_of(quantity));
  PointPlot plot(canvas, reach_of(layout));
  for (std::size_t m = 0; m < materials.size(); ++m) {
    PointMarks marks;
    for (std::size_t g = 0; g < materials[m].size(); ++g) {
      const double x = layout.x[m][g];
      script += mean_and_interval(*materials[m][g], x, layout, layout.blocks[m].colour);
      add_strip(series, *materials[m][g], x, layout, marks);
    }
    plot.add(marks, layout.blocks[m].colour);
  }
  return script + plot.script();
}

bool has_energies(const SeriesResult& series) {
  return series.ranking && !energy_blocks(series).empty();
}

std::string energies_chart_script(const SeriesResult& series, const Canvas& canvas) {
  expects(has_energies(series), "a chart of energies without any");
  const std::vector<EnergyBlock> bars = energy_blocks(series);
  const auto colours = material_colours(series);
  std::vector<ColumnBlock> blocks;
  for (const EnergyBlock& block : bars) {
    const std::string& material = block.group->material;
    blocks.push_back({material, setting_of(*block.group), colour_in(colours, material), {}});
    for (const std::size_t index : block.bars)
      blocks.back().labels.push_back(series.bars[index].specimen.id);
  }
  const ColumnLayout layout = lay_out_columns(blocks, energies_shown(series, bars), canvas);
  PointPlot plot(canvas, reach_of(layout));
  for (std::size_t b = 0; b < bars.size(); ++b) {
    PointMarks marks;
    for (std::size_t k = 0; k < bars[b].bars.size(); ++k) {
      const Bar& bar = series.bars[bars[b].bars[k]].bar;
      marks.add(bar, layout.x[b][k], bar.energy_J->value(), bar.energy_J->u());
    }
    plot.add(marks, blocks[b].colour);
  }
  return script_head(canvas) +
         script_texts(canvas,
                      texts_of(series,
                               "Energy that each bar took. Line, where longer than the point: "
                               "one standard uncertainty.")) +
         column_axes(layout, "Absorbed energy, J") + plot.script();
}

}  // namespace swingloss
