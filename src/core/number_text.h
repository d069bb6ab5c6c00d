// SPDX-License-Identifier: Apache-2.0
/// \file number_text.h
/// Numbers as text and back, the same on every machine: no locale, no stream state.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace swingloss {

/// The shortest text that reads back as exactly this number: 0.1 gives "0.1", 1e300 "1e+300",
/// -0.0 "0". Valid in JSON and CSV.
/// \throws std::logic_error when `number` is not finite: neither format has such a number
[[nodiscard]] std::string number_text(double number);

/// Fixed notation with `decimals` places, 0..40; correctly rounded from the binary value, ties
/// to even. Never "-0", "-0.00".
/// \throws std::logic_error when `number` is not finite or `decimals` out of range
[[nodiscard]] std::string fixed_text(double number, int decimals);

/// `digits` significant digits, 1..17, in fixed notation; places before the point that are not
/// significant are zeros: 1234 to 2 digits is "1200". Meant for people, not for files.
[[nodiscard]] std::string significant_text(double number, int digits);

/// The number that significant_text() spells: for files that people read as well. What rounds
/// to less than a double holds is 0.
[[nodiscard]] double rounded_number(double number, int digits);

/// A value and its standard uncertainty, rounded together for people.
struct ValueText {
  std::string value;
  std::string u;
};

/// `u` to two significant digits, the value to the same place [JCGM100 7.2.6]:
/// (12.3456, 0.0471) gives "12.346" and "0.047"; (50000838, 1234) "50000800" and "1200".
/// u = 0: the value as number_text() and "0".
/// \throws std::logic_error when either is not finite or u < 0
[[nodiscard]] ValueText format_with_u(double value, double u);

/// The number that the whole of `text` spells, or nothing. Blanks around it are passed over; a
/// sign (+, -, or the minus sign U+2212), digits, one `decimal_mark`, an exponent.
///
/// Nothing for an empty text, words, "nan", "inf", hexadecimal, digit grouping, a second
/// number, and magnitudes outside the range of double.
[[nodiscard]] std::optional<double> parse_number(std::string_view text,
                                                 char decimal_mark = '.');

/// `text` without blanks (space, tab, CR, LF, no-break space U+00A0) at either end.
[[nodiscard]] std::string_view trimmed(std::string_view text);

}  // namespace swingloss
