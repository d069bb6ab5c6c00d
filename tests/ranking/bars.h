// SPDX-License-Identifier: Apache-2.0
/// \file bars.h
/// Short ways to make bars for tests.
#pragma once

#include "ranking/ranking.h"
#include "support/has_remark.h"

#include <string>
#include <vector>

namespace swingloss::test {

/// What is alike for a row of bars.
struct BarKind {
  std::string material = {};
  std::string condition = {};
  std::string orientation = {};
  std::string rig = {};
  BreakType break_type = BreakType::Complete;
  Limit limit = Limit::None;
};

/// Appends bars with exact energies [J]; ids count on from the bars already there.
inline void add_bars(std::vector<Bar>& bars,
                     const BarKind& kind,
                     const std::vector<double>& energies_J) {
  for (const double energy_J : energies_J) {
    Bar bar;
    bar.id = "B" + std::to_string(bars.size() + 1);
    bar.material = kind.material;
    bar.condition = kind.condition;
    bar.orientation = kind.orientation;
    bar.rig = kind.rig;
    bar.break_type = kind.break_type;
    bar.limit = kind.limit;
    bar.energy_J = Uncertain::exact(energy_J);
    bars.push_back(bar);
  }
}

inline BarKind unbroken(BarKind kind) {
  kind.break_type = BreakType::NonBreak;
  kind.limit = Limit::Above;
  return kind;
}

/// Three plain groups, the first well apart from the other two.
inline std::vector<Bar> three_groups() {
  std::vector<Bar> bars;
  add_bars(bars, {"Korvel"}, {2.6, 2.8, 2.55, 2.7, 2.75});
  add_bars(bars, {"Tessan"}, {1.5, 1.62, 1.41, 1.55, 1.58});
  add_bars(bars, {"Morrow"}, {1.44, 1.57, 1.5, 1.58, 1.46});
  return bars;
}

/// The group of that name. \throws std::logic_error when there is none
inline const GroupSummary& group_named(const Ranking& ranking, const std::string& name) {
  for (const GroupSummary& group : ranking.groups) {
    if (group.name == name) return group;
  }
  throw std::logic_error("no group " + name);
}

/// The pair of two groups, in either order.
inline const Comparison& pair_of(const Ranking& ranking,
                                 const std::string& a,
                                 const std::string& b) {
  for (const Comparison& pair : ranking.comparisons) {
    const std::string& first = ranking.groups[pair.first].name;
    const std::string& second = ranking.groups[pair.second].name;
    if ((first == a && second == b) || (first == b && second == a)) return pair;
  }
  throw std::logic_error("no pair " + a + ", " + b);
}

}  // namespace swingloss::test
