// SPDX-License-Identifier: Apache-2.0
#include "series/calendar.h"

#include "core/number_text.h"

#include <cmath>
#include <vector>

namespace swingloss {
namespace {

bool is_leap(int year) { return (year % 4 == 0 && year % 100 != 0) || year % 400 == 0; }

int days_in(int year, int month) {
  constexpr int kDays[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
  return month == 2 && is_leap(year) ? 29 : kDays[month - 1];
}

/// Days from 0001-01-01 to the first of the year.
int days_before(int year) {
  const int y = year - 1;
  return 365 * y + y / 4 - y / 100 + y / 400;
}

/// Three whole numbers with `mark` between them.
std::vector<int> three_numbers(const std::string& text, char mark) {
  std::vector<int> numbers;
  std::string rest = text + mark;
  while (!rest.empty()) {
    const std::size_t end = rest.find(mark);
    const std::string part = rest.substr(0, end);
    const bool digits = !part.empty() && part.size() <= 4 &&
                        part.find_first_not_of("0123456789") == std::string::npos;
    if (!digits) return {};
    numbers.push_back(static_cast<int>(*parse_number(part)));
    rest.erase(0, end + 1);
  }
  return numbers.size() == 3 ? numbers : std::vector<int>();
}

}  // namespace

std::optional<int> day_number(const std::string& date) {
  const std::string text(trimmed(date));
  std::vector<int> parts = three_numbers(text, '-');
  if (parts.empty()) {
    const std::vector<int> turned = three_numbers(text, '.');
    if (turned.empty()) return {};
    parts = {turned[2], turned[1], turned[0]};
  }
  const int year = parts[0];
  const int month = parts[1];
  const int day = parts[2];
  if (year < 1000 || month < 1 || month > 12 || day < 1 || day > days_in(year, month))
    return {};
  int days = days_before(year) - days_before(1970) + day - 1;
  for (int m = 1; m < month; ++m) days += days_in(year, m);
  return days;
}

}  // namespace swingloss
