// SPDX-License-Identifier: Apache-2.0
#include "report/escape.h"

#include "core/expects.h"

#include <array>
#include <cstdint>

namespace swingloss {
namespace {

constexpr std::string_view kReplacement = "\xEF\xBF\xBD";

bool is_continuation(unsigned char byte) { return (byte & 0xC0U) == 0x80U; }

/// Bytes of the code point that starts `text`; 0 when it is not valid UTF-8 (overlong forms,
/// surrogates and values past U+10FFFF are not).
std::size_t sequence_length(std::string_view text) {
  const auto byte = [&](std::size_t i) { return static_cast<unsigned char>(text[i]); };
  const unsigned char lead = byte(0);
  std::size_t length = 0;
  if (lead < 0x80U) return 1;
  if (lead >= 0xC2U && lead <= 0xDFU) length = 2;
  if (lead >= 0xE0U && lead <= 0xEFU) length = 3;
  if (lead >= 0xF0U && lead <= 0xF4U) length = 4;
  if (length == 0 || text.size() < length) return 0;
  for (std::size_t i = 1; i < length; ++i) {
    if (!is_continuation(byte(i))) return 0;
  }
  const unsigned char second = byte(1);
  if (lead == 0xE0U && second < 0xA0U) return 0;
  if (lead == 0xEDU && second > 0x9FU) return 0;
  if (lead == 0xF0U && second < 0x90U) return 0;
  if (lead == 0xF4U && second > 0x8FU) return 0;
  return length;
}

bool is_control(std::string_view sequence) {
  const auto lead = static_cast<unsigned char>(sequence[0]);
  if (sequence.size() == 1) return lead < 0x20U || lead == 0x7FU;
  return sequence.size() == 2 && lead == 0xC2U &&
         static_cast<unsigned char>(sequence[1]) < 0xA0U;
}

/// U+202A..U+202E and U+2066..U+2069.
bool turns_direction(std::string_view sequence) {
  if (sequence.size() != 3 || sequence[0] != '\xE2') return false;
  const auto middle = static_cast<unsigned char>(sequence[1]);
  const auto last = static_cast<unsigned char>(sequence[2]);
  return (middle == 0x80U && last >= 0xAAU && last <= 0xAEU) ||
         (middle == 0x81U && last >= 0xA6U && last <= 0xA9U);
}

std::string_view html_reference(char character) {
  switch (character) {
    case '&':
      return "&amp;";
    case '<':
      return "&lt;";
    case '>':
      return "&gt;";
    case '"':
      return "&quot;";
    case '\'':
      return "&#39;";
    default:
      return {};
  }
}

bool runs_as_formula(std::string_view text) {
  if (text.empty()) return false;
  const char first = text.front();
  if (first == '=' || first == '@' || first == '\t' || first == '\r') return true;
  const bool signed_start = first == '+' || first == '-';
  return signed_start && text.find_first_of("(!|") != std::string_view::npos;
}

/// Not the digits: gnuplot would read one that follows an octal escape as part of it.
bool is_plain(unsigned char byte) {
  return byte == ' ' || (byte >= 'A' && byte <= 'Z') || (byte >= 'a' && byte <= 'z');
}

}  // namespace

std::string clean_text(std::string_view text) {
  std::string clean;
  clean.reserve(text.size());
  while (!text.empty()) {
    const std::size_t length = sequence_length(text);
    const std::string_view sequence = text.substr(0, length == 0 ? 1 : length);
    if (length == 0) {
      clean += kReplacement;
    } else if (!turns_direction(sequence)) {
      clean += is_control(sequence) ? " " : sequence;
    }
    text.remove_prefix(sequence.size());
  }
  return clean;
}

std::string html_text(std::string_view text) {
  std::string escaped;
  for (const char character : clean_text(text)) {
    const std::string_view reference = html_reference(character);
    if (reference.empty()) {
      escaped += character;
    } else {
      escaped += reference;
    }
  }
  return escaped;
}

std::string html_name(std::string_view text) { return "<bdi>" + html_text(text) + "</bdi>"; }

std::string spreadsheet_text(std::string_view text) {
  return (runs_as_formula(text) ? "'" : "") + std::string(text);
}

std::string gnuplot_string(std::string_view text) {
  std::string quoted = "\"";
  for (const char character : clean_text(text)) {
    const auto byte = static_cast<unsigned char>(character);
    if (is_plain(byte)) {
      quoted += character;
      continue;
    }
    const std::array<char, 4> octal = {'\\',
                                       static_cast<char>('0' + (byte >> 6U)),
                                       static_cast<char>('0' + ((byte >> 3U) & 7U)),
                                       static_cast<char>('0' + (byte & 7U))};
    quoted.append(octal.data(), octal.size());
  }
  return quoted + "\"";
}

std::size_t length_in_code_points(std::string_view text) {
  std::size_t count = 0;
  for (const char character : text) {
    if (!is_continuation(static_cast<unsigned char>(character))) ++count;
  }
  return count;
}

std::string shortened(std::string_view text, std::size_t limit) {
  expects(limit >= 2, "shortened() needs room for a letter and the ellipsis");
  std::string clean = clean_text(text);
  if (length_in_code_points(clean) <= limit) return clean;
  std::size_t end = 0;
  for (std::size_t kept = 0; kept + 1 < limit; ++kept) {
    end += sequence_length(std::string_view(clean).substr(end));
  }
  return clean.substr(0, end) + "\xE2\x80\xA6";
}

}  // namespace swingloss
