// SPDX-License-Identifier: Apache-2.0
#include "ranking/find_effects.h"

#include "ranking/holm.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace swingloss {
namespace {

const std::string& level_of(const GroupSummary& group, Factor factor) {
  return factor == Factor::Condition ? group.condition : group.orientation;
}

/// Material and the other factor.
std::string setting_of(const GroupSummary& group, Factor factor) {
  const std::string& other = factor == Factor::Condition ? group.orientation : group.condition;
  return other.empty() ? group.material : group.material + " / " + other;
}

/// The level that effects are counted from.
std::string base_level(const Ranking& ranking, Factor factor) {
  const bool condition = factor == Factor::Condition;
  const std::string& wanted =
      condition ? ranking.options.base_condition : ranking.options.base_orientation;
  const std::string usual = condition ? "as-made" : "flat";
  std::size_t earliest = static_cast<std::size_t>(-1);
  std::string first;
  bool usual_seen = false;
  for (const GroupSummary& group : ranking.groups) {
    usual_seen = usual_seen || level_of(group, factor) == usual;
    if (!group.bars.empty() && group.bars.front() < earliest) {
      earliest = group.bars.front();
      first = level_of(group, factor);
    }
  }
  if (!wanted.empty()) return wanted;
  return usual_seen ? usual : first;
}

/// Place of the pair (a, b), a < b, in a list of all pairs of n groups.
std::size_t pair_index(std::size_t a, std::size_t b, std::size_t n) {
  return a * n - a * (a + 1) / 2 + (b - a - 1);
}

/// The relative change from second to first of a ratio, or from first to second.
void set_change(const Comparison& pair, bool inverted, FactorEffect& effect) {
  const auto change = [&](const std::optional<double>& ratio) -> std::optional<double> {
    if (!ratio || (inverted && *ratio <= 0.0)) return std::nullopt;
    return (inverted ? 1.0 / *ratio : *ratio) - 1.0;
  };
  effect.change = change(pair.ratio);
  effect.change_interval = {change(pair.ratio_interval.low), change(pair.ratio_interval.high)};
  if (inverted) std::swap(effect.change_interval.low, effect.change_interval.high);
}

FactorEffect effect_between(const Ranking& ranking,
                            Factor factor,
                            std::size_t group,
                            std::size_t base_group) {
  const std::size_t n = ranking.groups.size();
  const bool inverted = base_group < group;
  const Comparison& pair =
      ranking
          .comparisons[pair_index(std::min(group, base_group), std::max(group, base_group), n)];
  FactorEffect effect;
  effect.factor = factor;
  effect.setting = setting_of(ranking.groups[group], factor);
  effect.level = level_of(ranking.groups[group], factor);
  effect.base = level_of(ranking.groups[base_group], factor);
  effect.group = group;
  effect.base_group = base_group;
  effect.p_value = pair.p_value;
  set_change(pair, inverted, effect);
  return effect;
}

/// Pairs of one factor, by setting in order of their earliest bars.
std::vector<FactorEffect> effects_of(const Ranking& ranking, Factor factor) {
  const std::string base = base_level(ranking, factor);
  std::map<std::string, std::size_t> base_groups;
  for (std::size_t g = 0; g < ranking.groups.size(); ++g) {
    if (level_of(ranking.groups[g], factor) == base) {
      base_groups[setting_of(ranking.groups[g], factor)] = g;
    }
  }
  std::vector<FactorEffect> effects;
  for (std::size_t g = 0; g < ranking.groups.size(); ++g) {
    const auto found = base_groups.find(setting_of(ranking.groups[g], factor));
    if (found == base_groups.end() || found->second == g) continue;
    effects.push_back(effect_between(ranking, factor, g, found->second));
  }
  std::sort(effects.begin(), effects.end(), [&](const FactorEffect& a, const FactorEffect& b) {
    const auto key = [&](const FactorEffect& e) {
      return std::pair(ranking.groups[e.base_group].bars.front(),
                       ranking.groups[e.group].bars.front());
    };
    return key(a) < key(b);
  });
  return effects;
}

void set_verdicts(const Ranking& ranking,
                  const std::vector<GroupEstimate>& estimates,
                  std::vector<FactorEffect>& effects) {
  std::vector<double> p_values;
  for (const FactorEffect& effect : effects) {
    if (effect.p_value) p_values.push_back(*effect.p_value);
  }
  const std::vector<double> adjusted = holm_adjusted(p_values);
  const double alpha = 1.0 - ranking.options.confidence;
  std::size_t next = 0;
  for (FactorEffect& effect : effects) {
    if (!effect.p_value) continue;
    effect.p_holm = adjusted[next++];
    const bool borrowed = estimates[effect.group].borrowed_scatter ||
                          estimates[effect.base_group].borrowed_scatter;
    if (*effect.p_holm <= alpha && !borrowed) {
      effect.verdict = Verdict::Clear;
    } else if (*effect.p_value <= 2.0 * alpha) {
      effect.verdict = Verdict::Likely;
    }
  }
}

/// ln(ratio) of an effect with its variance; nothing where a mean is missing or not positive.
std::optional<EstimatedMean> log_ratio(const FactorEffect& effect,
                                       const std::vector<GroupEstimate>& estimates,
                                       const SharedSources& shared) {
  const auto& first = estimates[effect.group].estimate;
  const auto& second = estimates[effect.base_group].estimate;
  if (!first || !second || first->mean <= 0.0 || second->mean <= 0.0) return std::nullopt;
  const CombinedVariance doubt =
      shared.of_log_ratio(effect.group, effect.base_group, first->mean, second->mean);
  const CombinedVariance variance = combine_variances(
      {{first->variance / (first->mean * first->mean), first->degrees_of_freedom},
       {second->variance / (second->mean * second->mean), second->degrees_of_freedom},
       {doubt.variance, doubt.degrees_of_freedom}});
  if (variance.variance == 0.0) return std::nullopt;
  return EstimatedMean{
      std::log(first->mean / second->mean), variance.variance, variance.degrees_of_freedom};
}

std::vector<EffectContrast> contrasts_of(const Ranking& ranking,
                                         const std::vector<FactorEffect>& effects,
                                         const std::vector<GroupEstimate>& estimates,
                                         const SharedSources& shared) {
  std::vector<std::string> levels;
  for (const FactorEffect& effect : effects) {
    if (std::find(levels.begin(), levels.end(), effect.level) == levels.end()) {
      levels.push_back(effect.level);
    }
  }
  std::vector<EffectContrast> contrasts;
  for (const std::string& level : levels) {
    EffectContrast contrast;
    std::vector<EstimatedMean> ratios;
    for (std::size_t e = 0; e < effects.size(); ++e) {
      if (effects[e].level != level) continue;
      const auto ratio = log_ratio(effects[e], estimates, shared);
      if (!ratio) continue;
      ratios.push_back(*ratio);
      contrast.effects.push_back(e);
      contrast.factor = effects[e].factor;
      contrast.base = effects[e].base;
    }
    if (ratios.size() < 2) continue;
    contrast.level = level;
    contrast.test = welch_anova(ratios);
    contrast.differs = contrast.test.p_value <= 1.0 - ranking.options.confidence;
    contrasts.push_back(contrast);
  }
  return contrasts;
}

}  // namespace

const char* name_of(Factor factor) {
  return factor == Factor::Condition ? "condition" : "orientation";
}

EffectTables find_effects(const Ranking& ranking,
                          const std::vector<GroupEstimate>& estimates,
                          const SharedSources& shared) {
  EffectTables tables;
  for (const Factor factor : {Factor::Condition, Factor::Orientation}) {
    std::vector<FactorEffect> effects = effects_of(ranking, factor);
    set_verdicts(ranking, estimates, effects);
    for (EffectContrast contrast : contrasts_of(ranking, effects, estimates, shared)) {
      for (std::size_t& index : contrast.effects) index += tables.effects.size();
      tables.contrasts.push_back(std::move(contrast));
    }
    tables.effects.insert(tables.effects.end(), effects.begin(), effects.end());
  }
  return tables;
}

}  // namespace swingloss
