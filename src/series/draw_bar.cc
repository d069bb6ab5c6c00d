// SPDX-License-Identifier: Apache-2.0
#include "series/draw_bar.h"

#include "series/parallel.h"

#include <cmath>

namespace swingloss {
namespace {

constexpr double kStrength_kJ_m2_per_J_mm2 = 1000.0;
constexpr double kTellingDifference = 0.10;
constexpr std::uint64_t kSeed = 1;

/// Inputs in the order of the model's places.
struct Inputs {
  std::vector<Uncertain> values;
  bool by_height = false;    ///< moment, release, rise (or not), friction; else the energy
  bool is_stopped = false;   ///< no rise: the hammer was stopped
  bool has_section = false;  ///< then thickness and width come last
};

Inputs energy_inputs(const BarResult& bar, const std::optional<Uncertain>& moment_Nm) {
  Inputs inputs;
  if (!bar.swing || !moment_Nm || !bar.swing->measurement.release_angle_rad ||
      !bar.swing->measurement.friction_J) {
    inputs.values = {*bar.bar.energy_J};
    return inputs;
  }
  const SwingMeasurement& swing = bar.swing->measurement;
  inputs.by_height = true;
  inputs.is_stopped = swing.censoring == Censoring::Right || !swing.rise_angle_rad;
  inputs.values = {*moment_Nm, *swing.release_angle_rad, *swing.friction_J};
  if (!inputs.is_stopped) inputs.values.push_back(*swing.rise_angle_rad);
  return inputs;
}

double energy_of(const Inputs& inputs, const Eigen::VectorXd& x) {
  if (!inputs.by_height) return x[0];
  const double rise_cos = inputs.is_stopped ? 1.0 : std::cos(x[3]);
  return x[0] * (rise_cos - std::cos(x[1])) - x[2];
}

void add_section(const BarResult& bar, double section_u_mm, Inputs& inputs) {
  const auto size = [&](double x_mm, const char* source) {
    return Uncertain::from(x_mm, section_u_mm, source, SourceKind::Own);
  };
  inputs.has_section = true;
  inputs.values.push_back(size(*bar.specimen.thickness_mm, "section.thickness"));
  inputs.values.push_back(size(*bar.specimen.width_mm, "section.width"));
}

/// u of thickness or width as it entered the bar's strength: its part over its derivative.
double section_u_of(const BarResult& bar) {
  for (const Contribution& part : bar.bar.strength_kJ_m2->parts()) {
    if (part.source.rfind("section.thickness", 0) != 0) continue;
    return std::abs(part.signed_u) * *bar.specimen.thickness_mm /
           bar.bar.strength_kJ_m2->value();
  }
  return 0.0;
}

}  // namespace

std::optional<DrawnBar> draw_bar(const BarResult& bar,
                                 Quantity quantity,
                                 const std::optional<Uncertain>& moment_Nm,
                                 const MonteCarloOptions& options) {
  const std::optional<Uncertain>& first_order = quantity_of(bar.bar, quantity);
  if (!first_order || first_order->u() == 0.0) return {};
  Inputs inputs = energy_inputs(bar, moment_Nm);
  if (quantity == Quantity::Strength_kJ_m2) add_section(bar, section_u_of(bar), inputs);
  const Model model = [&](const Eigen::VectorXd& x) {
    const double energy_J = energy_of(inputs, x);
    if (!inputs.has_section) return energy_J;
    return kStrength_kJ_m2_per_J_mm2 * energy_J / (x[x.size() - 2] * x[x.size() - 1]);
  };
  const Result<MonteCarloResult> drawn = monte_carlo(model, inputs.values, options);
  if (!drawn.ok()) return {};
  DrawnBar result;
  result.drawn = drawn.value();
  result.first_order_u = first_order->u();
  result.degrees_of_freedom = first_order->degrees_of_freedom();
  result.gap_in_u = first_order_gap(*first_order, drawn.value(), options.coverage);
  result.differs = std::abs(result.drawn.u / result.first_order_u - 1.0) > kTellingDifference;
  return result;
}

void draw_bars(SeriesResult& result, bool every_bar, int jobs) {
  if (!result.ranking) return;
  MonteCarloOptions options;
  options.trials = every_bar ? 200000 : 20000;
  options.seed = kSeed;
  options.coverage = result.ranking_options.confidence;
  for_each_index(result.bars.size(), jobs, [&](std::size_t i) {
    BarResult& bar = result.bars[i];
    std::optional<Uncertain> moment_Nm;
    for (const Rig& rig : result.rigs) {
      if (rig.name == bar.bar.rig) moment_Nm = rig.pendulum.moment_Nm;
    }
    const auto drawn = draw_bar(bar, result.ranking->quantity, moment_Nm, options);
    if (!drawn || (!every_bar && !drawn->differs)) return;
    bar.drawn = drawn;
    if (!drawn->differs) return;
    bar.remarks.push_back(
        {"first-order-off",
         Severity::Note,
         "Drawing all sources gives another uncertainty than first order, by more than 10 %: "
         "the drawn interval is stated beside it."});
  });
}

}  // namespace swingloss
