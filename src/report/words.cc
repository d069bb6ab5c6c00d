// SPDX-License-Identifier: Apache-2.0
#include "report/words.h"

#include "core/angle.h"
#include "core/number_text.h"

#include <algorithm>
#include <string_view>
#include <utility>

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
  std::string words = unbroken(share_words(probability));
  for (const auto& [word, sign] : {std::pair("above ", "> "), std::pair("below ", "< ")}) {
    if (words.rfind(word, 0) == 0) words.replace(0, std::string_view(word).size(), sign);
  }
  return words;
}

std::string change_percent_words(double change) { return unbroken(change_words(change)); }

std::string small_change_words(double change) {
  return (change > 0.0 ? "+" : "") + fixed_words(100.0 * change, 2) + kNoBreakSpace + "%";
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

std::string ratio_interval_words(const Interval& interval) {
  const std::string words = interval_words(interval, ratio_words);
  return words.empty() ? "–" : words;
}

std::string mean_or_bound_words(const GroupSummary& group) {
  const int decimals = decimals_of(group);
  if (group.mean) return fixed_words(*group.mean, decimals);
  if (!group.bound) return "–";
  return (group.method == MeanMethod::UpperBound ? "<" : ">") + kNoBreakSpace +
         fixed_words(*group.bound, decimals);
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

std::string bound_sign(Limit limit) {
  const std::string sign = limit_sign(limit);
  return sign.empty() ? sign : sign + kNoBreakSpace;
}

}  // namespace swingloss
