// SPDX-License-Identifier: Apache-2.0
#include "series/read_specimens.h"

#include <algorithm>
#include <array>
#include <string_view>

namespace swingloss {
namespace {

bool is_safe_letter(char c) {
  const auto byte = static_cast<unsigned char>(c);
  const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || byte >= 0x80;
  return letter || (c >= '0' && c <= '9') ||
         std::string_view("._-+").find(c) != std::string_view::npos;
}

/// Device names of Windows, with or without an ending: a series folder may be opened there.
bool is_reserved(const std::string& id) {
  constexpr std::array kReserved = {"CON", "PRN", "AUX", "NUL"};
  std::string stem = id.substr(0, id.find('.'));
  std::transform(stem.begin(), stem.end(), stem.begin(), [](char c) {
    return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
  });
  const std::string start = stem.substr(0, 3);
  const bool port = stem.size() == 4 && (start == "COM" || start == "LPT") && stem[3] >= '0' &&
                    stem[3] <= '9';
  return port || std::find(kReserved.begin(), kReserved.end(), stem) != kReserved.end();
}

}  // namespace

bool is_safe_id(const std::string& id) {
  if (id.empty() || id.size() > 64 || id.front() == '.' || id.back() == '.') return false;
  return std::all_of(id.begin(), id.end(), is_safe_letter) && !is_reserved(id);
}

}  // namespace swingloss
