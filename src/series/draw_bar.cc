// SPDX-License-Identifier: Apache-2.0
#include "series/draw_bar.h"

#include "core/parallel.h"

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

double quantity_of_draw(const Inputs& inputs, const Eigen::VectorXd& x) {
  const double energy_J = energy_of(inputs, x);
  if (!inputs.has_section) return energy_J;
  return kStrength_kJ_m2_per_J_mm2 * energy_J / (x[x.size() - 2] * x[x.size() - 1]);
}

Inputs inputs_of(const BarResult& bar,
                 Quantity quantity,
                 const std::optional<Uncertain>& moment_Nm) {
  Inputs inputs = energy_inputs(bar, moment_Nm);
  if (quantity == Quantity::Strength_kJ_m2) add_section(bar, section_u_of(bar), inputs);
  return inputs;
}

/// The law about one bar's values, looked at two standard uncertainties to either side.
class NearLaw {
 public:
  explicit NearLaw(const Inputs& inputs) : inputs_(inputs), here_(places()), u_(places()) {
    for (std::size_t i = 0; i < inputs.values.size(); ++i) {
      here_[static_cast<Eigen::Index>(i)] = inputs.values[i].value();
      u_[static_cast<Eigen::Index>(i)] = inputs.values[i].u();
    }
  }

  /// Whether draws can only say what first order says: its second-order part adds below half a
  /// hundredth to u [JCGM100 5.1.2 note], the slopes are alike near and far, and no source has
  /// the long tails of few degrees of freedom.
  /// \param first  first-order u of the result, with all that its sources share
  [[nodiscard]] bool is_straight(double first) const {
    constexpr double kFewest = 30.0, kBent = 0.1, kSteeper = 0.02;
    double second2 = 0.0, steeper = 0.0;
    for (Eigen::Index i = 0; i < places(); ++i) {
      if (inputs_.values[static_cast<std::size_t>(i)].degrees_of_freedom() < kFewest)
        return false;
      const double far = (at(i, 2.0, i, 0.0) - at(i, -2.0, i, 0.0)) / 4.0;
      const double near = (at(i, 1.0, i, 0.0) - at(i, -1.0, i, 0.0)) / 2.0;
      const double bend =
          (at(i, 2.0, i, 0.0) + at(i, -2.0, i, 0.0) - 2.0 * at(i, 0.0, i, 0.0)) / 4.0;
      second2 += 0.5 * bend * bend;
      steeper = std::max(steeper, std::abs(far - near));
      for (Eigen::Index j = 0; j < i; ++j) {
        const double twist = (at(i, 2.0, j, 2.0) + at(i, -2.0, j, -2.0) - at(i, 2.0, j, -2.0) -
                              at(i, -2.0, j, 2.0)) /
                             16.0;
        second2 += twist * twist;
      }
    }
    return std::sqrt(second2) <= kBent * first && steeper <= kSteeper * first;
  }

 private:
  [[nodiscard]] Eigen::Index places() const {
    return static_cast<Eigen::Index>(inputs_.values.size());
  }
  /// The law with two of its values moved by so many standard uncertainties.
  [[nodiscard]] double at(Eigen::Index i, double by_i, Eigen::Index j, double by_j) const {
    Eigen::VectorXd x = here_;
    x[i] += by_i * u_[i];
    x[j] += by_j * u_[j];
    return quantity_of_draw(inputs_, x);
  }

  const Inputs& inputs_;
  Eigen::VectorXd here_, u_;
};

/// Whether draws could tell anything of the bar that first order does not.
bool worth_drawing(const BarResult& bar,
                   Quantity quantity,
                   const std::optional<Uncertain>& moment_Nm) {
  const std::optional<Uncertain>& first_order = quantity_of(bar.bar, quantity);
  if (!first_order || first_order->u() == 0.0) return false;
  const Inputs inputs = inputs_of(bar, quantity, moment_Nm);
  return !NearLaw(inputs).is_straight(first_order->u());
}

}  // namespace

std::optional<DrawnBar> draw_bar(const BarResult& bar,
                                 Quantity quantity,
                                 const std::optional<Uncertain>& moment_Nm,
                                 const MonteCarloOptions& options) {
  const std::optional<Uncertain>& first_order = quantity_of(bar.bar, quantity);
  if (!first_order || first_order->u() == 0.0) return {};
  const Inputs inputs = inputs_of(bar, quantity, moment_Nm);
  const Model model = [&](const Eigen::VectorXd& x) { return quantity_of_draw(inputs, x); };
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
    const Quantity quantity = result.ranking->quantity;
    if (!every_bar && !worth_drawing(bar, quantity, moment_Nm)) return;
    const auto drawn = draw_bar(bar, quantity, moment_Nm, options);
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
