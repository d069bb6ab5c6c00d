// SPDX-License-Identifier: Apache-2.0
#include "ranking/words.h"

#include "core/number_text.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

std::string with_minus_sign(std::string text) {
  if (!text.empty() && text.front() == '-') text.replace(0, 1, "−");
  return text;
}

}  // namespace

const char* unit_words(Quantity quantity) {
  return quantity == Quantity::Energy_J ? "J" : "kJ/m²";
}

std::string fixed_words(double value, int decimals) {
  return with_minus_sign(fixed_text(value, decimals));
}

int decimals_for(double u) {
  if (!(u > 0.0)) return 0;
  // A hair above: 0.01 that arithmetic left a little short is 0.010, not 0.0100.
  const int first_place = static_cast<int>(std::floor(std::log10(u * (1.0 + 1e-9))));
  return std::clamp(1 - first_place, 0, 12);
}

int decimals_of(const Interval& interval, std::optional<double> value) {
  if (interval.low && interval.high && *interval.high > *interval.low)
    return decimals_for(0.25 * (*interval.high - *interval.low));
  const double size = std::abs(value.value_or(0.0));
  return size > 0.0 ? std::clamp(2 - static_cast<int>(std::floor(std::log10(size))), 0, 12) : 0;
}

int decimals_of(const GroupSummary& group) {
  return decimals_of(group.interval, group.mean ? group.mean : group.bound);
}

std::string value_words(double value) { return with_minus_sign(significant_text(value, 3)); }

std::string change_words(double relative) {
  const double percent = 100.0 * relative;
  const int decimals = std::abs(percent) < 9.95 ? 1 : 0;
  const std::string text = with_minus_sign(fixed_text(percent, decimals)) + " %";
  return percent > 0.0 ? "+" + text : text;
}

std::string ratio_words(double ratio) {
  return std::abs(ratio) < 9.995 ? fixed_words(ratio, 2) : value_words(ratio);
}

std::string share_words(double share) {
  if (share > 0.999) return "above 99.9 %";
  if (share < 0.001) return "below 0.1 %";
  const double percent = 100.0 * share;
  const bool near_an_end = percent < 0.95 || percent > 99.05;
  return fixed_text(percent, near_an_end ? 1 : 0) + " %";
}

std::string p_value_words(double p) {
  return p < 0.001 ? "< 0.001" : fixed_text(p, p < 0.1 ? 3 : 2);
}

std::string p_words(double p) { return (p < 0.001 ? "p " : "p = ") + p_value_words(p); }

std::string places_words(const GroupSummary& group) {
  if (!group.rank_low || !group.rank_high) return "–";
  const std::string low = std::to_string(*group.rank_low);
  return *group.rank_low == *group.rank_high ? low
                                             : low + "–" + std::to_string(*group.rank_high);
}

std::string list_words(const std::vector<std::string>& names, std::size_t most) {
  const bool cut = names.size() > most;
  const std::size_t shown = cut ? most - 1 : names.size();
  std::string text;
  for (std::size_t i = 0; i < shown; ++i) {
    if (i > 0) text += i + 1 == names.size() ? " and " : ", ";
    text += names[i];
  }
  if (cut) text += " and " + std::to_string(names.size() - shown) + " more";
  return text;
}

std::string bars_words(int count) {
  return std::to_string(count) + (count == 1 ? " bar" : " bars");
}

}  // namespace swingloss
