// SPDX-License-Identifier: Apache-2.0
#include "cli/text_table.h"

#include <algorithm>

namespace swingloss {
namespace {

std::size_t places(const std::string& text) {
  return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
  }));
}

std::string padded(const std::string& text, std::size_t width, bool to_the_right) {
  const std::string blanks(width - std::min(width, places(text)), ' ');
  return to_the_right ? blanks + text : text + blanks;
}

std::vector<std::size_t> widths_of(const TextTable& table) {
  std::vector<std::size_t> widths(table.is_number.size());
  for (const auto& row : table.rows) {
    for (std::size_t k = 0; k < widths.size(); ++k)
      widths[k] = std::max(widths[k], places(row[k]));
  }
  return widths;
}

}  // namespace

std::string text_of(const TextTable& table) {
  const std::vector<std::size_t> widths = widths_of(table);
  std::string text;
  for (const auto& row : table.rows) {
    std::string line;
    for (std::size_t k = 0; k < widths.size(); ++k) {
      line += (k > 0 ? "  " : "") + padded(row[k], widths[k], table.is_number[k]);
    }
    line.erase(line.find_last_not_of(' ') + 1);
    text += line + "\n";
  }
  return text;
}

std::string fact_line(const std::string& name, const std::string& text) {
  return "  " + padded(name, 14, false) + "  " + text + "\n";
}

}  // namespace swingloss
