// SPDX-License-Identifier: Apache-2.0
#include "report/source_families.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace swingloss {
namespace {

constexpr const char* kDigits = "0123456789";

std::string stem_of(const std::string& source) {
  std::string stem = source.substr(0, source.find(':'));
  if (!stem.empty() && stem.back() == ']') stem.erase(std::min(stem.rfind('['), stem.size()));
  const std::size_t last = stem.find_last_not_of(kDigits);
  if (last != std::string::npos && stem[last] == '-' && last + 1 < stem.size()) {
    stem.erase(last);
  }
  return stem.empty() ? source : stem;
}

std::string words_of(const std::string& stem) {
  static const std::map<std::string, std::string> kWords = {
      {"bar to bar", "from bar to bar"},
      {"blow.place", "place of the blow"},
      {"rig.friction", "bearing and air"},
      {"rig.gravity", "gravity"},
      {"rig.moment", "moment of the arm"},
      {"rig.reduced-length", "reduced length"},
      {"rig.strike-radius", "striking radius"},
      {"section.thickness", "thickness of the bar"},
      {"section.width", "width under the notch"},
      {"tracking", "following the arm"},
      {"tracking.hold", "the arm held before release"},
      {"typed.energy", "the energy as typed"},
      {"view.geometry", "camera and axle"},
      {"view.look", "look of the arm as it turns"},
      {"view.place-release", "place in the picture, at release"},
      {"view.place-rise", "place in the picture, at the turn"}};
  const auto known = kWords.find(stem);
  return known == kWords.end() ? stem : known->second;
}

/// Gathers squares by family.
class Gatherer {
 public:
  void add(const std::string& source, bool is_shared, double u) {
    squares_[{words_of(stem_of(source)), is_shared}] += u * u;
  }
  [[nodiscard]] std::vector<SourceFamily> families() const {
    std::vector<SourceFamily> all;
    for (const auto& [key, square] : squares_) {
      all.push_back({key.first, key.second, std::sqrt(square)});
    }
    std::stable_sort(all.begin(), all.end(), [](const SourceFamily& a, const SourceFamily& b) {
      return a.u > b.u;
    });
    return with_small_ones_joined(all);
  }

 private:
  static std::vector<SourceFamily> with_small_ones_joined(
      const std::vector<SourceFamily>& all) {
    std::vector<SourceFamily> shown;
    double rest = 0.0;
    bool rest_is_shared = true;
    for (const SourceFamily& family : all) {
      if (family.u >= 0.05 * all.front().u) {
        shown.push_back(family);
      } else {
        rest += family.u * family.u;
        rest_is_shared = rest_is_shared && family.is_shared;
      }
    }
    if (rest > 0.0) shown.push_back({"smaller ones together", rest_is_shared, std::sqrt(rest)});
    return shown;
  }

  std::map<std::pair<std::string, bool>, double> squares_;
};

}  // namespace

std::vector<SourceFamily> source_families(const Uncertain& value) {
  Gatherer gatherer;
  for (const Contribution& part : value.parts()) {
    gatherer.add(part.source, part.kind == SourceKind::Shared, part.signed_u);
  }
  return gatherer.families();
}

std::vector<SourceFamily> source_families(const std::vector<BudgetPart>& budget) {
  Gatherer gatherer;
  for (const BudgetPart& part : budget) {
    gatherer.add(part.source, part.kind == BudgetKind::Shared, part.u);
  }
  return gatherer.families();
}

}  // namespace swingloss
