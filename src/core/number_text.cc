// SPDX-License-Identifier: Apache-2.0
#include "core/number_text.h"

#include "core/expects.h"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace swingloss {
namespace {

// 309 digits before the point of the largest double, a sign, a point and 40 decimals.
using Buffer = std::array<char, 400>;

constexpr std::string_view kMinusSign = "\xE2\x88\x92";
constexpr std::string_view kNoBreakSpace = "\xC2\xA0";

bool starts_with(std::string_view text, std::string_view start) {
  return text.substr(0, start.size()) == start;
}

bool is_blank(char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; }

bool is_digit(char c) { return c >= '0' && c <= '9'; }

std::string without_negative_zero(std::string text) {
  const bool has_value =
      std::any_of(text.begin(), text.end(), [](char c) { return c >= '1' && c <= '9'; });
  if (!has_value && !text.empty() && text.front() == '-') text.erase(0, 1);
  return text;
}

/// Power of ten of the last of `digits` significant digits of `number`, after rounding to them:
/// 0.0996 to two digits is 0.10, whose last place is 10^-2.
int place_of_last_digit(double number, int digits) {
  Buffer buffer = {};
  const auto end = std::to_chars(buffer.data(),
                                 buffer.data() + buffer.size(),
                                 number,
                                 std::chars_format::scientific,
                                 digits - 1);
  const std::string_view text(buffer.data(), static_cast<std::size_t>(end.ptr - buffer.data()));
  std::string_view exponent_text = text.substr(text.find('e') + 1);
  if (exponent_text.front() == '+') exponent_text.remove_prefix(1);
  int exponent = 0;
  std::from_chars(exponent_text.data(), exponent_text.data() + exponent_text.size(), exponent);
  return exponent - (digits - 1);
}

/// Rounded to a multiple of 10^place, without an exponent.
std::string text_to_place(double number, int place) {
  if (place <= 0) return fixed_text(number, std::min(-place, 40));
  const std::string head = fixed_text(number / std::pow(10.0, place), 0);
  return head == "0" ? head : head + std::string(static_cast<std::size_t>(place), '0');
}

}  // namespace

std::string number_text(double number) {
  expects(std::isfinite(number), "a number that is not finite has no text");
  Buffer buffer = {};
  const auto end = std::to_chars(buffer.data(), buffer.data() + buffer.size(), number);
  return without_negative_zero(std::string(buffer.data(), end.ptr));
}

std::string fixed_text(double number, int decimals) {
  expects(std::isfinite(number), "a number that is not finite has no text");
  expects(decimals >= 0 && decimals <= 40, "decimals must be 0 to 40");
  Buffer buffer = {};
  const auto end = std::to_chars(
      buffer.data(), buffer.data() + buffer.size(), number, std::chars_format::fixed, decimals);
  return without_negative_zero(std::string(buffer.data(), end.ptr));
}

std::string significant_text(double number, int digits) {
  expects(std::isfinite(number), "a number that is not finite has no text");
  expects(digits >= 1 && digits <= 17, "significant digits must be 1 to 17");
  if (number == 0.0) return "0";
  return text_to_place(number, place_of_last_digit(number, digits));
}

double rounded_number(double number, int digits) {
  const std::string text = significant_text(number, digits);
  double rounded = 0.0;  // stays where the text spells less than a double holds
  std::from_chars(text.data(), text.data() + text.size(), rounded);
  return rounded;
}

ValueText format_with_u(double value, double u) {
  expects(std::isfinite(value) && std::isfinite(u) && u >= 0.0,
          "a value or its uncertainty is not finite, or the uncertainty is negative");
  if (u == 0.0) return {number_text(value), "0"};
  const int place = place_of_last_digit(u, 2);
  return {text_to_place(value, place), text_to_place(u, place)};
}

std::optional<double> parse_number(std::string_view text, char decimal_mark) {
  text = trimmed(text);
  std::string plain;
  if (starts_with(text, kMinusSign)) {
    plain = "-";
    text.remove_prefix(kMinusSign.size());
  } else if (!text.empty() && (text.front() == '+' || text.front() == '-')) {
    if (text.front() == '-') plain = "-";
    text.remove_prefix(1);
  }
  // from_chars would also take a second sign, "inf" and "nan".
  if (text.empty() || !(is_digit(text.front()) || text.front() == decimal_mark)) return {};
  for (const char c : text) {
    if (c == '.' && decimal_mark != '.') return {};
    plain += c == decimal_mark ? '.' : c;
  }
  double number = 0.0;
  const auto [end, error] = std::from_chars(plain.data(), plain.data() + plain.size(), number);
  if (error != std::errc() || end != plain.data() + plain.size()) return {};
  return number;
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty()) {
    if (is_blank(text.front())) {
      text.remove_prefix(1);
    } else if (starts_with(text, kNoBreakSpace)) {
      text.remove_prefix(kNoBreakSpace.size());
    } else {
      break;
    }
  }
  while (!text.empty()) {
    const std::size_t size = text.size();
    if (is_blank(text.back())) {
      text.remove_suffix(1);
    } else if (size >= 2 && text.substr(size - 2) == kNoBreakSpace) {
      text.remove_suffix(2);
    } else {
      break;
    }
  }
  return text;
}

}  // namespace swingloss
