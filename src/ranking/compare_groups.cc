// SPDX-License-Identifier: Apache-2.0
#include "ranking/compare_groups.h"

#include "ranking/bars_needed.h"
#include "ranking/compare_pair.h"
#include "ranking/holm.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Holm over those comparisons that have the p value.
template <typename Get>
void adjust(std::vector<Comparison>& comparisons, Get p_of, Get adjusted_of) {
  std::vector<double> p_values;
  for (Comparison& comparison : comparisons) {
    if (p_of(comparison)) p_values.push_back(*p_of(comparison));
  }
  const std::vector<double> adjusted = holm_adjusted(p_values);
  std::size_t next = 0;
  for (Comparison& comparison : comparisons) {
    if (p_of(comparison)) adjusted_of(comparison) = adjusted[next++];
  }
}

void set_verdict(const Pair& pair) {
  Comparison& result = pair.result;
  const double alpha = 1.0 - pair.options.confidence;
  result.equivalent = result.p_equivalent && *result.p_equivalent <= alpha;
  if (!result.p_value) return;
  const bool borrowed = pair.first.borrowed_scatter || pair.second.borrowed_scatter;
  if (*result.p_holm <= alpha && !borrowed) {
    result.verdict = Verdict::Clear;
  } else if (*result.p_value <= 2.0 * alpha) {
    result.verdict = Verdict::Likely;
  }
}

/// How many bars would make the pair clear, or why none would.
void set_bars(const Pair& pair, BarsNeeded& needed) {
  Comparison& result = pair.result;
  if (result.verdict == Verdict::Clear) return;
  if (pair.first.method == MeanMethod::None || pair.second.method == MeanMethod::None) {
    result.bars_words = "a group without any value cannot be compared";
  } else if (is_bound(pair.first) || is_bound(pair.second)) {
    result.bars_words =
        "bars that do not break set only a bound: break them with a heavier hammer or a "
        "sharper notch";
  } else if (!pair.first.scatter || !pair.second.scatter) {
    result.bars_words = "no scatter is known: break three bars of each or more";
  } else {
    const double s1 = *pair.first.scatter;
    const double s2 = *pair.second.scatter;
    const double s = std::sqrt(0.5 * (s1 * s1 + s2 * s2));
    const double shared_variance = pair.shared
                                       .of_order(result.first,
                                                 result.second,
                                                 pair.first.estimate->mean,
                                                 pair.second.estimate->mean)
                                       .variance;
    result.bars_to_resolve = needed.smallest(*result.difference, s, shared_variance);
    if (result.bars_to_resolve) {
      result.bars_words = "about " + std::to_string(*result.bars_to_resolve) +
                          " bars of each, if the true difference is as seen";
    } else if (needed.smallest(*result.difference, s)) {
      result.bars_words =
          "no number of bars: what the two instruments do not share is as large as the "
          "difference; tie them with a reference material";
    } else {
      result.bars_words = "more than " + std::to_string(BarsNeeded::kMost) +
                          " bars of each, if the true difference is as seen";
    }
  }
}

}  // namespace

const char* name_of(Verdict verdict) {
  switch (verdict) {
    case Verdict::Clear:
      return "clear";
    case Verdict::Likely:
      return "likely";
    case Verdict::NotResolved:
      return "not resolved";
  }
  return "not resolved";
}

std::vector<Comparison> compare_groups(const std::vector<GroupEstimate>& groups,
                                       const SharedSources& shared,
                                       const RankingOptions& options) {
  std::vector<Comparison> comparisons;
  for (std::size_t i = 0; i < groups.size(); ++i) {
    for (std::size_t j = i + 1; j < groups.size(); ++j) {
      Comparison comparison;
      comparison.first = i;
      comparison.second = j;
      compare_pair({groups[i], groups[j], shared, options, comparison});
      comparisons.push_back(std::move(comparison));
    }
  }
  using Get = std::optional<double>& (*)(Comparison&);
  const Get p_value = [](Comparison& c) -> std::optional<double>& { return c.p_value; };
  const Get p_holm = [](Comparison& c) -> std::optional<double>& { return c.p_holm; };
  const Get p_equivalent = [](Comparison& c) -> std::optional<double>& {
    return c.p_equivalent;
  };
  adjust(comparisons, p_value, p_holm);
  adjust(comparisons, p_equivalent, p_equivalent);

  double open = 0.0;
  for (Comparison& c : comparisons) {
    set_verdict({groups[c.first], groups[c.second], shared, options, c});
    open += c.p_value && c.verdict != Verdict::Clear ? 1.0 : 0.0;
  }
  BarsNeeded needed((1.0 - options.confidence) / std::max(1.0, open), options.power);
  for (Comparison& c : comparisons) {
    set_bars({groups[c.first], groups[c.second], shared, options, c}, needed);
  }
  return comparisons;
}

}  // namespace swingloss
