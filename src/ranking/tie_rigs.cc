// SPDX-License-Identifier: Apache-2.0
#include "ranking/tie_rigs.h"

#include "core/expects.h"
#include "ranking/sample.h"
#include "ranking/welch.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>

namespace swingloss {
namespace {

/// Reference bars of one condition and orientation, by rig.
using Setting = std::map<std::string, std::vector<std::size_t>>;

std::string setting_name(const Bar& bar) {
  std::string name = bar.material;
  for (const std::string* part : {&bar.condition, &bar.orientation}) {
    if (!part->empty()) name += " / " + *part;
  }
  return name;
}

bool usable(const Bar& bar, Quantity quantity, const std::string& material) {
  const std::optional<Uncertain>& value = quantity_of(bar, quantity);
  return bar.material == material && !bar.left_out && bar.limit == Limit::None &&
         bar.break_type != BreakType::NonBreak && value && value->value() > 0.0;
}

std::vector<std::string> rigs_in_order(const std::vector<Bar>& bars) {
  std::vector<std::string> rigs;
  for (const Bar& bar : bars) {
    if (std::find(rigs.begin(), rigs.end(), bar.rig) == rigs.end()) rigs.push_back(bar.rig);
  }
  return rigs;
}

/// Rig with the most reference bars over all settings.
std::string base_of(const std::map<std::string, Setting>& settings,
                    const std::vector<std::string>& rigs) {
  std::string base;
  std::size_t most = 0;
  for (const std::string& rig : rigs) {
    std::size_t count = 0;
    for (const auto& [name, setting] : settings) {
      const auto found = setting.find(rig);
      if (found != setting.end()) count += found->second.size();
    }
    if (count > most) {
      most = count;
      base = rig;
    }
  }
  return base;
}

/// What the reference bars of one rig say.
struct Reference {
  Sample sample;
  Uncertain mean;  ///< with the shared sources only; scatter is in `sample`
};

Reference reference_of(const std::vector<Bar>& bars,
                       const std::vector<std::size_t>& members,
                       Quantity quantity) {
  std::vector<double> values;
  Uncertain sum;
  for (const std::size_t i : members) {
    const Uncertain& value = *quantity_of(bars[i], quantity);
    values.push_back(value.value());
    Uncertain shared_only = Uncertain::exact(value.value());
    for (const Contribution& part : value.parts()) {
      if (part.kind != SourceKind::Shared) continue;
      const Uncertain one = Uncertain::from(
          0.0, std::abs(part.signed_u), part.source, part.kind, part.degrees_of_freedom);
      shared_only = part.signed_u < 0.0 ? shared_only - one : shared_only + one;
    }
    sum = sum + shared_only;
  }
  return {summarise(values), sum / static_cast<double>(values.size())};
}

/// The setting with most bars on the less supplied of the two rigs, two at least.
std::optional<std::string> best_setting(const std::map<std::string, Setting>& settings,
                                        const std::string& rig,
                                        const std::string& base) {
  std::optional<std::string> best;
  std::size_t most = 1;
  for (const auto& [name, setting] : settings) {
    if (setting.count(rig) == 0 || setting.count(base) == 0) continue;
    const std::size_t fewer = std::min(setting.at(rig).size(), setting.at(base).size());
    if (fewer > most) {
      most = fewer;
      best = name;
    }
  }
  return best;
}

std::string spoken(const std::string& rig) { return rig.empty() ? "(no rig named)" : rig; }

/// Multiplies all bars of the rig.
void apply(const RigTie& tie,
           const Uncertain& factor,
           Quantity quantity,
           std::vector<Bar>& bars) {
  for (Bar& bar : bars) {
    if (bar.rig != tie.rig) continue;
    std::optional<Uncertain>& value =
        quantity == Quantity::Energy_J ? bar.energy_J : bar.strength_kJ_m2;
    if (value) value = *value * factor;
  }
}

void leave_out_references(const std::string& rig,
                          const std::string& base,
                          const std::string& material,
                          std::vector<Bar>& bars) {
  for (Bar& bar : bars) {
    if (bar.rig != rig || bar.material != material || bar.left_out) continue;
    bar.left_out = true;
    bar.left_out_reason = "used to tie " + spoken(rig) + " to " + spoken(base);
  }
}

void tie_one(const std::string& rig,
             const std::string& base,
             const std::map<std::string, Setting>& settings,
             Quantity quantity,
             TiedBars& tied) {
  const std::optional<std::string> name = best_setting(settings, rig, base);
  if (!name) {
    tied.remarks.push_back({"rig-not-tied",
                            Severity::Warning,
                            "Rig " + spoken(rig) + " and rig " + spoken(base) +
                                " do not share two broken reference bars each; the values of " +
                                spoken(rig) + " stand on its own constants."});
    return;
  }
  const Setting& setting = settings.at(*name);
  const Reference on_rig = reference_of(tied.bars, setting.at(rig), quantity);
  const Reference on_base = reference_of(tied.bars, setting.at(base), quantity);
  const double rig_mean = on_rig.sample.mean;
  const double base_mean = on_base.sample.mean;
  const CombinedVariance relative = combine_variances(
      {{on_rig.sample.mean_variance() / (rig_mean * rig_mean), on_rig.sample.n - 1.0},
       {on_base.sample.mean_variance() / (base_mean * base_mean), on_base.sample.n - 1.0}});
  const Uncertain chance = Uncertain::from(1.0,
                                           std::sqrt(relative.variance),
                                           "tie " + spoken(rig),
                                           SourceKind::Shared,
                                           relative.degrees_of_freedom);
  const Uncertain factor = on_base.mean / on_rig.mean * chance;
  RigTie tie;
  tie.rig = rig;
  tie.base_rig = base;
  tie.reference = *name;
  tie.n = on_rig.sample.n;
  tie.n_base = on_base.sample.n;
  tie.factor = factor.value();
  tie.u_factor = factor.value() * std::sqrt(relative.variance);
  tie.degrees_of_freedom = relative.degrees_of_freedom;
  apply(tie, factor, quantity, tied.bars);
  tied.ties.push_back(tie);
}

}  // namespace

std::string scale_of(const std::string& rig, const std::vector<RigTie>& ties) {
  const auto tie =
      std::find_if(ties.begin(), ties.end(), [&](const RigTie& t) { return t.rig == rig; });
  return tie == ties.end() ? rig : tie->base_rig;
}

TiedBars tie_rigs(const std::vector<Bar>& bars,
                  Quantity quantity,
                  const std::string& material) {
  TiedBars tied;
  tied.bars = bars;
  std::map<std::string, Setting> settings;
  for (std::size_t i = 0; i < bars.size(); ++i) {
    if (usable(bars[i], quantity, material)) {
      settings[setting_name(bars[i])][bars[i].rig].push_back(i);
    }
  }
  if (settings.empty()) {
    tied.remarks.push_back({"no-reference",
                            Severity::Warning,
                            "No bar of the reference material " + material +
                                " has a plain value; the rigs are not tied."});
    return tied;
  }
  const std::vector<std::string> rigs = rigs_in_order(bars);
  const std::string base = base_of(settings, rigs);
  for (const std::string& rig : rigs) {
    if (rig != base) tie_one(rig, base, settings, quantity, tied);
  }
  for (const RigTie& tie : tied.ties) {
    leave_out_references(tie.rig, tie.base_rig, material, tied.bars);
  }
  return tied;
}

}  // namespace swingloss
