// SPDX-License-Identifier: Apache-2.0
#include "ranking/budget.h"

#include "core/expects.h"
#include "ranking/source_words.h"
#include "ranking/words.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace swingloss {
namespace {

/// "tracking#B3" of bar B3 without its bar: "tracking".
std::string without_bar(const std::string& source, const std::string& id) {
  if (id.empty() || source.size() <= id.size() + 1) return source;
  const std::size_t start = source.size() - id.size();
  const char before = source[start - 1];
  const bool marked = std::string(" #@:/.-_").find(before) != std::string::npos;
  return marked && source.compare(start, id.size(), id) == 0 ? source.substr(0, start - 1)
                                                             : source;
}

}  // namespace

const std::optional<Uncertain>& quantity_of(const Bar& bar, Quantity quantity) {
  return quantity == Quantity::Energy_J ? bar.energy_J : bar.strength_kJ_m2;
}

const char* name_of(BudgetKind kind) {
  switch (kind) {
    case BudgetKind::Scatter:
      return "scatter";
    case BudgetKind::Own:
      return "own";
    case BudgetKind::Shared:
      return "shared";
  }
  return "scatter";
}

std::vector<BudgetPart> budget_of_mean(const std::vector<const Bar*>& bars,
                                       Quantity quantity,
                                       std::optional<double> s) {
  expects(!bars.empty(), "a budget of no bars");
  const double n = static_cast<double>(bars.size());
  std::map<std::string, double> shared;
  std::map<std::string, double> own_squares;
  for (const Bar* bar : bars) {
    const std::optional<Uncertain>& value = quantity_of(*bar, quantity);
    expects(value.has_value(), "a budget of a bar without a value");
    for (const Contribution& part : value->parts()) {
      if (part.kind == SourceKind::Shared)
        shared[part.source] += part.signed_u / n;
      else
        own_squares[without_bar(part.source, bar->id)] += part.signed_u * part.signed_u;
    }
  }
  std::vector<BudgetPart> parts;
  parts.reserve(shared.size() + own_squares.size() + 1);
  for (const auto& [source, u] : shared) {
    parts.push_back({source, BudgetKind::Shared, std::abs(u)});
  }
  double own_total = 0.0;
  for (const auto& [source, squares] : own_squares) {
    own_total += squares;
    parts.push_back({source, BudgetKind::Own, std::sqrt(squares) / n});
  }
  const double beyond = s ? *s * *s - own_total / n : 0.0;
  if (beyond > 0.0) {
    parts.push_back({"bar to bar", BudgetKind::Scatter, std::sqrt(beyond / n)});
  }
  double total = 0.0;
  for (const BudgetPart& part : parts) total += part.u * part.u;
  for (BudgetPart& part : parts) part.fraction = total > 0.0 ? part.u * part.u / total : 0.0;
  std::stable_sort(parts.begin(), parts.end(), [](const BudgetPart& a, const BudgetPart& b) {
    return a.u > b.u;
  });
  return parts;
}

std::string worth_improving(const std::vector<BudgetPart>& budget) {
  if (budget.empty()) return "";
  const BudgetPart& largest = budget.front();
  const std::string share = share_words(largest.fraction) + " of the variance of the mean";
  switch (largest.kind) {
    case BudgetKind::Scatter:
      return "The bars themselves differ (" + share +
             "): more bars make the mean surer, a better rig does not.";
    case BudgetKind::Own:
      return "Measuring each bar (" + source_words(largest.source) + ") is the largest part (" +
             share + "): improve it, or measure more bars.";
    case BudgetKind::Shared:
      return "Common to all bars: " + source_words(largest.source) + " is the largest part (" +
             share + "): measure it better; more bars do not help.";
  }
  return "";
}

}  // namespace swingloss
