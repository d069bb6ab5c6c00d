// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"
#include "core/number_text.h"
#include "metrology/distributions.h"
#include "ranking/compare_groups.h"
#include "ranking/differ_in.h"
#include "ranking/find_effects.h"
#include "ranking/group_bars.h"
#include "ranking/group_remarks.h"
#include "ranking/letters.h"
#include "ranking/ranking.h"
#include "ranking/simulate_ranks.h"
#include "ranking/verdict_sentences.h"
#include "ranking/words.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

namespace swingloss {
namespace {

void require(bool good, const char* field, double found, const char* wanted) {
  if (good) return;
  const std::string text =
      std::isfinite(found) ? number_text(found) : "a number that is not finite";
  throw InputError(
      {"", std::string("ranking option ") + field, text, wanted, "Change the option."});
}

/// Groups with their estimates, in one order.
struct Estimated {
  std::vector<BarGroup> groups;
  std::vector<GroupEstimate> estimates;
};

Estimated estimate_all(const std::vector<Bar>& bars,
                       Quantity quantity,
                       const RankingOptions& options) {
  Estimated all;
  all.groups = group_bars(bars, quantity, options);
  for (BarGroup& group : all.groups) {
    all.estimates.push_back(estimate_group(bars, quantity, options.confidence, group));
  }
  lend_scatter(all.estimates);
  form_beliefs(all.estimates);
  return all;
}

/// Toughest first by mean or bound; groups without any value last, in input order.
Estimated toughest_first(Estimated all) {
  const auto height = [&](std::size_t g) {
    const GroupSummary& summary = all.groups[g].summary;
    if (summary.mean) return *summary.mean;
    return summary.bound ? *summary.bound : -std::numeric_limits<double>::infinity();
  };
  std::vector<std::size_t> order(all.groups.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return height(a) > height(b);
  });
  Estimated sorted;
  for (const std::size_t g : order) {
    sorted.groups.push_back(std::move(all.groups[g]));
    sorted.estimates.push_back(std::move(all.estimates[g]));
  }
  return sorted;
}

std::vector<std::size_t> counted_bars(const BarGroup& group) {
  std::vector<std::size_t> counted;
  for (const BarRole role : {BarRole::Value, BarRole::Above, BarRole::Below}) {
    const std::vector<std::size_t> some = group.bars_of(role);
    counted.insert(counted.end(), some.begin(), some.end());
  }
  return counted;
}

SharedSources sources_of(const std::vector<Bar>& bars,
                         const std::vector<BarGroup>& groups,
                         Quantity quantity) {
  std::vector<std::vector<std::size_t>> members;
  members.reserve(groups.size());
  for (const BarGroup& group : groups) members.push_back(counted_bars(group));
  return shared_sources(bars, members, quantity);
}

/// The interval of the mean widened by what the group's bars share.
Interval with_shared(const GroupSummary& summary,
                     const std::optional<EstimatedMean>& estimate,
                     const CombinedVariance& shared,
                     double confidence) {
  if (shared.variance == 0.0 || !summary.mean || !estimate) return summary.interval;
  const double alone = std::sqrt(shared.variance) *
                       student_quantile(0.5 + confidence / 2.0, shared.degrees_of_freedom);
  const auto widened = [&](double end, double sign) {
    const double half = end - *summary.mean;
    return *summary.mean + sign * std::sqrt(half * half + alone * alone);
  };
  Interval interval;
  if (summary.interval.low) interval.low = widened(*summary.interval.low, -1.0);
  if (summary.interval.high) interval.high = widened(*summary.interval.high, 1.0);
  return interval;
}

/// Neither an energy nor a strength lies below zero; an end that does is put there.
void cut_at_zero(Interval& interval) {
  const bool straddles = interval.low && interval.high && *interval.high > 0.0;
  if (straddles) interval.low = std::max(0.0, *interval.low);
}

void finish_summaries(const std::vector<Bar>& bars,
                      const SharedSources& shared,
                      const Ranking& ranking,
                      Estimated& all) {
  for (std::size_t g = 0; g < all.groups.size(); ++g) {
    GroupSummary& summary = all.groups[g].summary;
    const CombinedVariance doubt = shared.of_mean(g);
    summary.u_shared = std::sqrt(doubt.variance);
    summary.interval_with_shared =
        with_shared(summary, all.estimates[g].estimate, doubt, ranking.options.confidence);
    std::vector<const Bar*> counted;
    for (const std::size_t i : counted_bars(all.groups[g])) counted.push_back(&bars[i]);
    if (!counted.empty() && summary.mean) {
      summary.budget = budget_of_mean(counted, ranking.quantity, summary.s);
    }
    append(summary.remarks,
           group_remarks(bars, ranking.quantity, all.groups[g], all.estimates[g]));
    cut_at_zero(summary.interval);
    cut_at_zero(summary.interval_with_shared);
    for (BreakClass& entry : summary.break_classes) cut_at_zero(entry.interval);
  }
}

/// Ranks among the groups that can be drawn.
void add_ranks(const SharedSources& shared, const Estimated& all, Ranking& ranking) {
  std::vector<std::size_t> drawn;
  std::vector<Belief> beliefs;
  for (std::size_t g = 0; g < all.estimates.size(); ++g) {
    if (!all.estimates[g].belief) continue;
    drawn.push_back(g);
    beliefs.push_back(*all.estimates[g].belief);
  }
  if (drawn.empty()) return;
  SharedSources part = shared;
  part.contributions.resize(static_cast<Eigen::Index>(drawn.size()),
                            shared.contributions.cols());
  for (std::size_t k = 0; k < drawn.size(); ++k) {
    part.contributions.row(static_cast<Eigen::Index>(k)) =
        shared.contributions.row(static_cast<Eigen::Index>(drawn[k]));
  }
  const RankingOptions& options = ranking.options;
  const std::vector<RankChances> chances =
      simulate_ranks(beliefs, part, {options.confidence, options.draws, options.seed});
  for (std::size_t k = 0; k < drawn.size(); ++k) {
    GroupSummary& group = ranking.groups[drawn[k]];
    group.rank_probability = chances[k].probability;
    group.p_best = chances[k].probability.front();
    group.rank_low = chances[k].low;
    group.rank_high = chances[k].high;
  }
}

void add_letters(Ranking& ranking) {
  std::vector<std::pair<std::size_t, std::size_t>> different;
  for (const Comparison& pair : ranking.comparisons) {
    if (pair.verdict == Verdict::Clear) different.emplace_back(pair.first, pair.second);
  }
  std::size_t with_value = 0;
  for (const GroupSummary& group : ranking.groups) {
    with_value += group.method == MeanMethod::None ? 0 : 1;
  }
  const std::vector<std::string> letters = compact_letters(with_value, different);
  for (std::size_t g = 0; g < with_value; ++g) ranking.groups[g].letters = letters[g];
}

void add_overall(const std::vector<GroupEstimate>& estimates, Ranking& ranking) {
  std::vector<EstimatedMean> means;
  for (const GroupEstimate& group : estimates) {
    const bool own =
        group.estimate && !group.borrowed_scatter && group.estimate->variance > 0.0;
    if (own) means.push_back(*group.estimate);
  }
  if (means.size() >= 2) ranking.overall = welch_anova(means);
}

std::string lower_case(std::string text) {
  std::transform(text.begin(), text.end(), text.begin(), [](char c) {
    return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  });
  return text;
}

void remark_similar_names(Ranking& ranking) {
  std::map<std::string, std::string> seen;
  for (const GroupSummary& group : ranking.groups) {
    const auto [found, is_new] = seen.try_emplace(lower_case(group.name), group.name);
    if (is_new) continue;
    ranking.remarks.push_back({"similar-names",
                               Severity::Warning,
                               "'" + found->second + "' and '" + group.name +
                                   "' differ only in capitals and are ranked as two groups; "
                                   "write them alike if they are one."});
  }
}

/// Whether values of several rigs stand side by side with nothing said of how the rigs differ.
/// Rigs that are tied count as one: the tie says it.
void remark_rigs(const std::vector<Bar>& bars, Ranking& ranking) {
  std::map<std::string, bool> says_shared;
  for (const Bar& bar : bars) {
    const std::optional<Uncertain>& value = quantity_of(bar, ranking.quantity);
    if (bar.left_out || !value) continue;
    const std::string scale = scale_of(bar.rig, ranking.ties);
    bool& says = says_shared[scale];
    says = says || (scale == bar.rig && value->u(SourceKind::Shared) > 0.0);
  }
  std::vector<std::string> silent;
  for (const auto& [rig, says] : says_shared) {
    if (!says) silent.push_back(rig.empty() ? "(no rig named)" : rig);
  }
  if (says_shared.size() < 2 || silent.empty()) return;
  ranking.remarks.push_back(
      {"rigs-not-compared",
       Severity::Warning,
       "Values of " + std::to_string(says_shared.size()) +
           " instruments are ranked together, and " + list_words(silent) +
           (silent.size() == 1 ? " states" : " state") +
           " no uncertainty of constants of their own: a difference between the instruments "
           "would pass for one between materials. Break one reference material on each."});
}

void remark_unranked(const Estimated& all, Ranking& ranking) {
  std::vector<std::string> placed;
  for (std::size_t g = 0; g < all.estimates.size(); ++g) {
    const bool has_value = all.groups[g].summary.method != MeanMethod::None;
    if (has_value && !all.estimates[g].belief) placed.push_back(all.groups[g].summary.name);
  }
  if (placed.empty()) return;
  ranking.remarks.push_back(
      {"ranks-without-chance",
       Severity::Warning,
       list_words(placed) + ": placed by value only. No group has a scatter from which the "
                            "chance of a rank could be worked out."});
}

}  // namespace

void RankingOptions::validate() const {
  require(
      confidence > 0.5 && confidence < 1.0, "confidence", confidence, "above 0.5 and below 1");
  require(draws >= 100 && draws <= 10000000, "draws", draws, "100 to 10000000");
  require(equivalence_margin > 0.0 && equivalence_margin < 1.0,
          "equivalence_margin",
          equivalence_margin,
          "above 0 and below 1");
  require(power > 0.5 && power < 1.0, "power", power, "above 0.5 and below 1");
}

Ranking rank_bars(const std::vector<Bar>& given, const RankingOptions& options) {
  options.validate();
  Ranking ranking;
  ranking.options = options;
  ranking.quantity = ranked_quantity(given, options);
  std::vector<Bar> bars = given;
  if (!options.reference_material.empty()) {
    TiedBars tied = tie_rigs(given, ranking.quantity, options.reference_material);
    bars = std::move(tied.bars);
    ranking.ties = std::move(tied.ties);
    ranking.remarks = std::move(tied.remarks);
  }
  Estimated all = toughest_first(estimate_all(bars, ranking.quantity, options));
  const SharedSources shared = sources_of(bars, all.groups, ranking.quantity);
  finish_summaries(bars, shared, ranking, all);
  for (const BarGroup& group : all.groups) ranking.groups.push_back(group.summary);

  ranking.comparisons = compare_groups(all.estimates, shared, options);
  for (Comparison& pair : ranking.comparisons) {
    pair.differ_in =
        differ_in(ranking.groups[pair.first], ranking.groups[pair.second], bars, ranking.ties);
  }
  add_letters(ranking);
  add_overall(all.estimates, ranking);
  add_ranks(shared, all, ranking);
  EffectTables tables = find_effects(ranking, all.estimates, shared);
  ranking.effects = std::move(tables.effects);
  ranking.effect_contrasts = std::move(tables.contrasts);
  remark_similar_names(ranking);
  remark_rigs(bars, ranking);
  remark_unranked(all, ranking);
  ranking.verdict_sentences = verdict_sentences(ranking);
  ranking.effect_sentences = effect_sentences(ranking);
  return ranking;
}

}  // namespace swingloss
