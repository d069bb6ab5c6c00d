// SPDX-License-Identifier: Apache-2.0
#include "report/words.h"

#include "core/angle.h"
#include "core/number_text.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

const std::string kNoBreakSpace = "\u00A0";
const std::string kMinus = "\u2212";

std::string with_true_minus(std::string text) {
  if (!text.empty() && text.front() == '-') text.replace(0, 1, kMinus);
  return text;
}

std::string with_unit(const std::string& number, const std::string& unit) {
  if (unit.empty()) return number;
  return unit == "°" ? number + unit : number + kNoBreakSpace + unit;
}

}  // namespace

int decimals_for(double u) {
  if (!(u > 0.0)) return 0;
  // A hair above: 0.01 that arithmetic left a little short is 0.010, not 0.0100.
  const int first_place = static_cast<int>(std::floor(std::log10(u * (1.0 + 1e-9))));
  return std::clamp(1 - first_place, 0, 12);
}

std::string fixed_words(double value, int decimals) {
  return with_true_minus(fixed_text(value, decimals));
}

std::string with_u_words(const Uncertain& value, const std::string& unit) {
  if (value.u() == 0.0) return rounded_words(value.value(), 4, unit);
  const ValueText text = format_with_u(value.value(), value.u());
  const std::string both =
      with_true_minus(text.value) + kNoBreakSpace + "±" + kNoBreakSpace + text.u;
  return with_unit(both, unit);
}

std::string angle_words(const Uncertain& angle_rad) {
  return with_u_words((180.0 / kPi) * angle_rad, "°");
}

std::string rounded_words(double value, int digits, const std::string& unit) {
  return with_unit(with_true_minus(significant_text(value, digits)), unit);
}

std::string percent_words(double probability) {
  const std::string sign = kNoBreakSpace + "%";
  if (probability > 0.99) return "> 99" + sign;
  if (probability < 0.01) return "< 1" + sign;
  return fixed_text(100.0 * probability, 0) + sign;
}

std::string change_percent_words(double change) {
  const std::string sign = change > 0.0 ? "+" : "";
  return sign + fixed_words(100.0 * change, std::abs(change) < 1.0 ? 1 : 0) + kNoBreakSpace +
         "%";
}

std::string p_value_words(double p) {
  return p < 0.001 ? "<" + kNoBreakSpace + "0.001" : fixed_text(p, p < 0.1 ? 3 : 2);
}

std::string interval_words(const Interval& interval, int decimals) {
  if (interval.low && interval.high) {
    return fixed_words(*interval.low, decimals) + " to " +
           fixed_words(*interval.high, decimals);
  }
  if (interval.low) return "above " + fixed_words(*interval.low, decimals);
  if (interval.high) return "below " + fixed_words(*interval.high, decimals);
  return "–";
}

std::string mean_or_bound_words(const GroupSummary& group, int decimals) {
  if (group.mean) return fixed_words(*group.mean, decimals);
  if (group.interval.low)
    return ">" + kNoBreakSpace + fixed_words(*group.interval.low, decimals);
  if (group.interval.high)
    return "<" + kNoBreakSpace + fixed_words(*group.interval.high, decimals);
  return "–";
}

int decimals_of(const GroupSummary& group) {
  const Interval& interval = group.interval;
  if (interval.low && interval.high && *interval.high > *interval.low) {
    return decimals_for(0.25 * (*interval.high - *interval.low));
  }
  const double size = std::abs(group.mean.value_or(interval.low.value_or(1.0)));
  return size > 0.0 ? std::clamp(3 - static_cast<int>(std::floor(std::log10(size))), 0, 12) : 0;
}

int decimals_of(const Ranking& ranking) {
  std::vector<int> decimals;
  for (const GroupSummary& group : ranking.groups) decimals.push_back(decimals_of(group));
  if (decimals.empty()) return 0;
  const auto middle = decimals.begin() + static_cast<std::ptrdiff_t>(decimals.size() / 2);
  std::nth_element(decimals.begin(), middle, decimals.end());
  return *middle;
}

std::string unit_of(Quantity quantity) {
  return quantity == Quantity::Strength_kJ_m2 ? "kJ/m²" : "J";
}

std::string title_of(Quantity quantity) {
  return quantity == Quantity::Strength_kJ_m2 ? "Impact strength" : "Absorbed energy";
}

std::string break_words(BreakType type) {
  switch (type) {
    case BreakType::Complete:
      return "C complete";
    case BreakType::Hinge:
      return "H hinge";
    case BreakType::Partial:
      return "P partial";
    case BreakType::NonBreak:
      return "N no break";
    case BreakType::Unknown:
      return "not stated";
  }
  return "not stated";
}

std::string section_words(double thickness_mm, double width_mm) {
  const auto decimals = [](const std::string& text) {
    const std::size_t point = text.find('.');
    return point == std::string::npos ? 0 : static_cast<int>(text.size() - point - 1);
  };
  const int most =
      std::max(decimals(number_text(thickness_mm)), decimals(number_text(width_mm)));
  return fixed_words(thickness_mm, most) + " × " + fixed_words(width_mm, most) + kNoBreakSpace +
         "mm";
}

std::string unbroken(std::string sentence) {
  for (const char* unit : {" %", " kJ/m²", " J"}) {
    for (std::size_t at = sentence.find(unit); at != std::string::npos;
         at = sentence.find(unit, at + kNoBreakSpace.size())) {
      const bool after_digit = at > 0 && sentence[at - 1] >= '0' && sentence[at - 1] <= '9';
      if (after_digit) sentence.replace(at, 1, kNoBreakSpace);
    }
  }
  return sentence;
}

std::string limit_sign(Limit limit) {
  switch (limit) {
    case Limit::None:
      return "";
    case Limit::Above:
      return ">";
    case Limit::Below:
      return "<";
  }
  return "";
}

}  // namespace swingloss
