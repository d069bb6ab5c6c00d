// SPDX-License-Identifier: Apache-2.0
#include "ranking/group_bars.h"

#include "core/joined.h"

#include <algorithm>
#include <array>
#include <map>

namespace swingloss {
namespace {

/// Break types that may share a mean.
enum class Family { Broken, Partial, Survived };

Family family_of(const Bar& bar) {
  if (bar.break_type == BreakType::NonBreak || bar.limit == Limit::Above) {
    return Family::Survived;
  }
  return bar.break_type == BreakType::Partial ? Family::Partial : Family::Broken;
}

bool counts(const Bar& bar, Quantity quantity) {
  return !bar.left_out && quantity_of(bar, quantity).has_value();
}

std::vector<BarGroup> by_name(const std::vector<Bar>& bars, const RankingOptions& options) {
  std::vector<BarGroup> groups;
  std::map<std::array<std::string, 3>, std::size_t> place;
  for (std::size_t i = 0; i < bars.size(); ++i) {
    const std::array<std::string, 3> key{bars[i].material,
                                         options.by_condition ? bars[i].condition : "",
                                         options.by_orientation ? bars[i].orientation : ""};
    const auto [found, is_new] = place.try_emplace(key, groups.size());
    if (is_new) {
      groups.emplace_back();
      GroupSummary& summary = groups.back().summary;
      summary.material = key[0];
      summary.condition = key[1];
      summary.orientation = key[2];
      summary.name = joined({key[0], key[1], key[2]}, " / ");
    }
    groups[found->second].summary.bars.push_back(i);
  }
  return groups;
}

/// Whether the group's mean is that of its partial breaks.
bool partial_leads(const std::vector<Bar>& bars, const BarGroup& group, Quantity quantity) {
  int partial = 0;
  int broken = 0;
  for (const std::size_t i : group.summary.bars) {
    if (!counts(bars[i], quantity)) continue;
    partial += family_of(bars[i]) == Family::Partial ? 1 : 0;
    const bool known = bars[i].break_type != BreakType::Unknown;
    broken += known && family_of(bars[i]) == Family::Broken ? 1 : 0;
  }
  return partial > broken;
}

BarRole role_of(const Bar& bar, Quantity quantity, bool partial_mean, bool pooled) {
  if (bar.left_out) return BarRole::LeftOut;
  if (!quantity_of(bar, quantity)) return BarRole::NoValue;
  if (family_of(bar) == Family::Survived) return BarRole::Above;
  const bool partial = bar.break_type == BreakType::Partial;
  const bool fits = pooled || partial == partial_mean || bar.break_type == BreakType::Unknown;
  if (!fits) return BarRole::Apart;
  return bar.limit == Limit::Below ? BarRole::Below : BarRole::Value;
}

/// "C", "C+H", "C+type not given": the break types of some bars that have one mean.
std::string class_name(const std::vector<Bar>& bars, const std::vector<std::size_t>& members) {
  std::string name;
  for (const BreakType type : {BreakType::Complete, BreakType::Hinge, BreakType::Partial}) {
    const bool there = std::any_of(members.begin(), members.end(), [&](std::size_t i) {
      return bars[i].break_type == type;
    });
    if (there) name += (name.empty() ? "" : "+") + std::string(letter_of(type));
  }
  const bool unknown = std::any_of(members.begin(), members.end(), [&](std::size_t i) {
    return bars[i].break_type == BreakType::Unknown;
  });
  if (unknown) name += name.empty() ? "type not given" : "+type not given";
  return name;
}

void add_class(BarGroup& group,
               const std::vector<Bar>& bars,
               const std::vector<std::size_t>& members,
               bool in_mean) {
  if (members.empty()) return;
  BreakClass entry;
  entry.name = class_name(bars, members);
  entry.bars = members;
  entry.in_group_mean = in_mean;
  group.summary.break_classes.push_back(entry);
}

/// Bars that held: those called N, and those of which only the limit is known.
void add_survivors(BarGroup& group, const std::vector<Bar>& bars) {
  std::vector<std::size_t> unbroken;
  std::vector<std::size_t> beyond;
  for (const std::size_t i : group.bars_of(BarRole::Above)) {
    (bars[i].break_type == BreakType::NonBreak ? unbroken : beyond).push_back(i);
  }
  for (const auto& [members, name] :
       {std::pair{unbroken, "N"}, std::pair{beyond, "more than the instrument shows"}}) {
    if (members.empty()) continue;
    BreakClass entry;
    entry.name = name;
    entry.bars = members;
    entry.in_group_mean = true;
    group.summary.break_classes.push_back(entry);
  }
}

BreakType most_frequent_type(const std::vector<Bar>& bars, const BarGroup& group) {
  constexpr std::array<BreakType, 5> kOrder{BreakType::Complete,
                                            BreakType::Hinge,
                                            BreakType::Partial,
                                            BreakType::NonBreak,
                                            BreakType::Unknown};
  std::array<int, 5> count{};
  for (std::size_t k = 0; k < group.roles.size(); ++k) {
    const BarRole role = group.roles[k];
    if (role == BarRole::LeftOut || role == BarRole::NoValue || role == BarRole::Apart)
      continue;
    const auto* const found =
        std::find(kOrder.begin(), kOrder.end(), bars[group.summary.bars[k]].break_type);
    ++count[static_cast<std::size_t>(found - kOrder.begin())];
  }
  const auto* const most = std::max_element(count.begin(), count.end());
  return *most == 0 ? BreakType::Unknown
                    : kOrder[static_cast<std::size_t>(most - count.begin())];
}

bool mixes_families(const std::vector<Bar>& bars, const std::vector<std::size_t>& averaged) {
  bool partial = false;
  bool broken = false;
  for (const std::size_t i : averaged) {
    partial = partial || bars[i].break_type == BreakType::Partial;
    broken = broken || bars[i].break_type == BreakType::Complete ||
             bars[i].break_type == BreakType::Hinge;
  }
  return partial && broken;
}

void fill_counts(GroupSummary& summary, const BarGroup& group) {
  const auto number = [&](BarRole role) {
    return static_cast<int>(group.bars_of(role).size());
  };
  summary.n_exact = number(BarRole::Value);
  summary.n_above = number(BarRole::Above);
  summary.n_below = number(BarRole::Below);
  summary.n_apart = number(BarRole::Apart);
  summary.n_left_out = number(BarRole::LeftOut);
  summary.n_no_value = number(BarRole::NoValue);
  summary.exact_bars = group.bars_of(BarRole::Value);
}

}  // namespace

const char* letter_of(BreakType break_type) {
  switch (break_type) {
    case BreakType::Complete:
      return "C";
    case BreakType::Hinge:
      return "H";
    case BreakType::Partial:
      return "P";
    case BreakType::NonBreak:
      return "N";
    case BreakType::Unknown:
      return "";
  }
  return "";
}

std::vector<std::size_t> BarGroup::bars_of(BarRole role) const {
  std::vector<std::size_t> found;
  for (std::size_t k = 0; k < roles.size(); ++k) {
    if (roles[k] == role) found.push_back(summary.bars[k]);
  }
  return found;
}

Quantity ranked_quantity(const std::vector<Bar>& bars, const RankingOptions& options) {
  if (options.quantity) return *options.quantity;
  bool any = false;
  for (const Bar& bar : bars) {
    if (!counts(bar, Quantity::Energy_J) && !counts(bar, Quantity::Strength_kJ_m2)) continue;
    if (!bar.strength_kJ_m2) return Quantity::Energy_J;
    any = true;
  }
  return any ? Quantity::Strength_kJ_m2 : Quantity::Energy_J;
}

std::vector<BarGroup> group_bars(const std::vector<Bar>& bars,
                                 Quantity quantity,
                                 const RankingOptions& options) {
  std::vector<BarGroup> groups = by_name(bars, options);
  for (BarGroup& group : groups) {
    const bool partial_mean = partial_leads(bars, group, quantity);
    for (const std::size_t i : group.summary.bars) {
      group.roles.push_back(role_of(bars[i], quantity, partial_mean, options.pool_break_types));
    }
    fill_counts(group.summary, group);
    std::vector<std::size_t> averaged = group.bars_of(BarRole::Value);
    const std::vector<std::size_t> below = group.bars_of(BarRole::Below);
    averaged.insert(averaged.end(), below.begin(), below.end());
    std::sort(averaged.begin(), averaged.end());
    add_class(group, bars, averaged, true);
    add_class(group, bars, group.bars_of(BarRole::Apart), false);
    add_survivors(group, bars);
    group.summary.main_break_type = most_frequent_type(bars, group);
    group.summary.pooled_break_types = mixes_families(bars, averaged);
  }
  return groups;
}

}  // namespace swingloss
