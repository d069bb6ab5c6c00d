// SPDX-License-Identifier: Apache-2.0
#include "ranking/verdict_sentences.h"

#include "core/number_text.h"
#include "ranking/words.h"

#include <cmath>

namespace swingloss {
namespace {

std::string capital(std::string text) {
  if (!text.empty() && text.front() >= 'a' && text.front() <= 'z') {
    text.front() = static_cast<char>(text.front() - 'a' + 'A');
  }
  return text;
}

/// The group's mean, or its bound, as it stands in every table.
std::string with_unit(double value, const GroupSummary& group, Quantity quantity) {
  return fixed_words(value, decimals_of(group)) + " " + unit_words(quantity);
}

/// ", 2 of them known only as more than a limit", and the same below.
std::string limits_words(const GroupSummary& group) {
  std::string text;
  if (group.n_above > 0)
    text += ", " + std::to_string(group.n_above) + " of them known only as more than a limit";
  if (group.n_below > 0)
    text += ", " + std::to_string(group.n_below) + " of them known only as less than a limit";
  return text;
}

/// "24.1 kJ/m² (22.0 to 26.2, 5 bars)".
std::string reached_words(const GroupSummary& group, Quantity quantity) {
  const int held = group.n_above;
  const int all = group.n_exact + group.n_above + group.n_below;
  const int decimals = decimals_of(group);
  const std::string interval =
      interval_words(group.interval, [&](double end) { return fixed_words(end, decimals); });
  switch (group.method) {
    case MeanMethod::None:
      return "no bar has a value";
    case MeanMethod::OneBar:
      return with_unit(*group.mean, group, quantity) +
             " from one bar, whose scatter is not known";
    case MeanMethod::NoScatter:
      return with_unit(*group.mean, group, quantity) + " in " +
             (all == 2 ? std::string("both bars") : "all " + bars_words(all)) +
             ", no scatter to judge by";
    case MeanMethod::Sample:
      return with_unit(*group.mean, group, quantity) + " (" + interval + ", " +
             bars_words(all) + ")";
    case MeanMethod::Likelihood:
      return with_unit(*group.mean, group, quantity) + " (" + interval + ", " +
             bars_words(all) + limits_words(group) + ")";
    case MeanMethod::LowerBound:
      return (group.n_exact == 0 ? "all " + bars_words(all) + " held"
                                 : std::to_string(held) + " of " + bars_words(all) + " held") +
             ": above " + with_unit(*group.bound, group, quantity) + " (confidence " +
             share_words(group.bound_confidence) + ")";
    case MeanMethod::UpperBound:
      return "below what the instrument shows: under " +
             with_unit(*group.bound, group, quantity) + " (confidence " +
             share_words(group.bound_confidence) + ")";
  }
  return "";
}

/// "material and condition differ" where a difference belongs to several things at one time.
std::string mixed_words(const Comparison& pair) {
  return pair.differ_in.size() < 2 ? "" : list_words(pair.differ_in, 5) + " differ";
}

/// " (5 % to 26 %; material and condition differ)", or what there is of it.
std::string in_brackets(const std::string& range, const Comparison& pair) {
  const std::string mixed = mixed_words(pair);
  if (range.empty() && mixed.empty()) return "";
  return " (" + range + (range.empty() || mixed.empty() ? "" : "; ") + mixed + ")";
}

/// ", by 15 % (5 % to 26 %)", or in times from twice on.
std::string margin_words(const Comparison& pair) {
  if (!pair.ratio) {
    if (!pair.ratio_interval.low || *pair.ratio_interval.low <= 1.0)
      return in_brackets("", pair);
    return ", by " + change_words(*pair.ratio_interval.low - 1.0) + " at least" +
           in_brackets("", pair);
  }
  if (*pair.ratio >= 2.0) {
    return ", " + ratio_words(*pair.ratio) + " times" +
           in_brackets(interval_words(pair.ratio_interval, ratio_words), pair);
  }
  const auto change = [](double ratio) { return change_words(ratio - 1.0); };
  return ", by " + change_words(*pair.ratio - 1.0) +
         in_brackets(interval_words(pair.ratio_interval, change), pair);
}

std::string standing_words(const Ranking& ranking, const Comparison& pair) {
  const std::string& first = ranking.groups[pair.first].name;
  const std::string& second = ranking.groups[pair.second].name;
  const std::string bars = pair.bars_words.empty() ? "" : " Needed: " + pair.bars_words + ".";
  switch (pair.verdict) {
    case Verdict::Clear:
      return first + " is clearly tougher than " + second + margin_words(pair) + ".";
    case Verdict::Likely:
      return first + " is likely tougher than " + second + margin_words(pair) + "." + bars;
    case Verdict::NotResolved:
      break;
  }
  if (pair.equivalent) {
    const std::string margin = change_words(ranking.options.equivalence_margin).substr(1);
    return first + " and " + second + " lie within " + margin + " of one another" +
           margin_words(pair) + ".";
  }
  std::string margin = margin_words(pair);  // ", by ...", or brackets alone
  if (margin.rfind(", ", 0) == 0) margin = ", the first ahead" + margin.substr(1);
  return first + " and " + second + ": not resolved" + margin + "." + bars;
}

/// Who leads, and over whom for sure.
std::string leader_sentence(const Ranking& ranking) {
  const GroupSummary& leader = ranking.groups.front();
  std::vector<std::string> open;
  for (const Comparison& pair : ranking.comparisons) {
    if (pair.first == 0 && pair.verdict != Verdict::Clear) {
      open.push_back(ranking.groups[pair.second].name);
    }
  }
  const std::string best =
      leader.p_best ? " It is best in " + share_words(*leader.p_best) + " of simulated worlds."
                    : "";
  if (ranking.groups.size() == 1) return "One group only: there is nothing to rank it against.";
  if (leader.method == MeanMethod::None) return "No group has a value.";
  if (open.empty())
    return leader.name + " is the toughest, clearly ahead of every other." + best;
  if (open.size() + 1 == ranking.groups.size()) {
    return leader.name + " stands first, but is not clearly ahead of any other." + best;
  }
  return leader.name + " stands first, but is not clearly ahead of " + list_words(open) + "." +
         best;
}

std::string effect_sentence(const FactorEffect& effect) {
  const std::string where =
      effect.setting + ", " + effect.level + " against " + effect.base + ": ";
  const std::string interval = interval_words(effect.change_interval, change_words);
  if (!effect.change && interval.empty()) return where + "no percentage can be given.";
  std::string text = where;
  if (effect.change) text += change_words(*effect.change);
  if (!interval.empty()) text += effect.change ? " (" + interval + ")" : interval;
  return text + ", " + name_of(effect.verdict) + ".";
}

std::string contrast_sentence(const EffectContrast& contrast) {
  const std::string p = p_words(contrast.test.p_value);
  const std::string what = "The effect of " + contrast.level + " against " + contrast.base;
  const std::string places =
      contrast.effects.size() == 2
          ? std::string("both settings")
          : "all " + std::to_string(contrast.effects.size()) + " settings";
  return contrast.differs ? what + " is not the same in " + places + " (" + p + ")."
                          : what + " may be the same in " + places + " (" + p +
                                "): no difference between the effects is resolved.";
}

}  // namespace

std::vector<std::string> verdict_sentences(const Ranking& ranking) {
  std::vector<std::string> sentences;
  if (ranking.groups.empty()) return sentences;
  sentences.push_back(capital(leader_sentence(ranking)));
  for (std::size_t g = 0; g < ranking.groups.size(); ++g) {
    const GroupSummary& group = ranking.groups[g];
    std::string text = group.name + ": " + reached_words(group, ranking.quantity) + ".";
    for (const Comparison& pair : ranking.comparisons) {
      const bool with_previous = g > 0 && pair.first + 1 == g && pair.second == g;
      const bool told = with_previous && group.method != MeanMethod::None;
      if (told) text += " " + standing_words(ranking, pair);
    }
    sentences.push_back(std::move(text));
  }
  return sentences;
}

std::vector<std::string> effect_sentences(const Ranking& ranking) {
  std::vector<std::string> sentences;
  for (const FactorEffect& effect : ranking.effects)
    sentences.push_back(effect_sentence(effect));
  for (const EffectContrast& contrast : ranking.effect_contrasts) {
    sentences.push_back(contrast_sentence(contrast));
  }
  return sentences;
}

}  // namespace swingloss
