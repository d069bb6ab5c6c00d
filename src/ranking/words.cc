// SPDX-License-Identifier: Apache-2.0
#include "ranking/words.h"

#include "core/number_text.h"

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

std::string value_words(double value) { return with_minus_sign(significant_text(value, 3)); }

std::string change_words(double relative) {
  const double percent = 100.0 * relative;
  const int decimals = std::abs(percent) < 9.95 ? 1 : 0;
  const std::string text = with_minus_sign(fixed_text(percent, decimals)) + " %";
  return percent > 0.0 ? "+" + text : text;
}

std::string share_words(double share) {
  if (share > 0.999) return "above 99.9 %";
  if (share < 0.001) return "below 0.1 %";
  const double percent = 100.0 * share;
  const bool near_an_end = percent < 1.0 || percent > 99.0;
  return fixed_text(percent, near_an_end ? 1 : 0) + " %";
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
