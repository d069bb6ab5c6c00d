// SPDX-License-Identifier: Apache-2.0
#include "report/source_families.h"

#include "ranking/source_words.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

namespace swingloss {
namespace {

/// Gathers squares by family.
class Gatherer {
 public:
  void add(const std::string& source, bool is_shared, double u) {
    squares_[{source_words(source), is_shared}] += u * u;
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
    if (rest > 0.0) shown.push_back({kSmallOnes, rest_is_shared, std::sqrt(rest)});
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
