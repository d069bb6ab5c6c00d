// SPDX-License-Identifier: Apache-2.0
#include "ranking/differ_in.h"

#include <algorithm>
#include <set>

namespace swingloss {
namespace {

/// Complete and hinge breaks share a mean, partial ones have their own.
enum class MeanClass { Unknown, Broken, Partial };

MeanClass class_of(const GroupSummary& group) {
  switch (group.main_break_type) {
    case BreakType::Complete:
    case BreakType::Hinge:
      return MeanClass::Broken;
    case BreakType::Partial:
      return MeanClass::Partial;
    case BreakType::NonBreak:
    case BreakType::Unknown:
      break;
  }
  return MeanClass::Unknown;
}

bool breaks_differ(const GroupSummary& first, const GroupSummary& second) {
  const MeanClass a = class_of(first);
  const MeanClass b = class_of(second);
  return a != MeanClass::Unknown && b != MeanClass::Unknown && a != b;
}

std::set<std::string> rigs_of(const GroupSummary& group,
                              const std::vector<Bar>& bars,
                              const std::vector<RigTie>& ties) {
  std::set<std::string> rigs;
  for (const std::size_t i : group.bars) {
    if (!bars.at(i).left_out) rigs.insert(scale_of(bars[i].rig, ties));
  }
  return rigs;
}

bool share_none(const std::set<std::string>& first, const std::set<std::string>& second) {
  if (first.empty() || second.empty()) return false;
  return std::none_of(first.begin(), first.end(), [&](const std::string& rig) {
    return second.count(rig) > 0;
  });
}

}  // namespace

std::vector<std::string> differ_in(const GroupSummary& first,
                                   const GroupSummary& second,
                                   const std::vector<Bar>& bars,
                                   const std::vector<RigTie>& ties) {
  std::vector<std::string> things;
  if (first.material != second.material) things.emplace_back("material");
  if (first.condition != second.condition) things.emplace_back("condition");
  if (first.orientation != second.orientation) things.emplace_back("orientation");
  if (breaks_differ(first, second)) things.emplace_back("kind of break");
  if (share_none(rigs_of(first, bars, ties), rigs_of(second, bars, ties)))
    things.emplace_back("instrument");
  return things;
}

}  // namespace swingloss
