// SPDX-License-Identifier: Apache-2.0
#include "core/shell_word.h"

#include <algorithm>
#include <string_view>

namespace swingloss {
namespace {

bool is_plain(char c) {
  const bool letter = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                      static_cast<unsigned char>(c) >= 0x80U;
  return letter || (c >= '0' && c <= '9') ||
         std::string_view("._-+/,:@%=").find(c) != std::string_view::npos;
}

}  // namespace

std::string shell_word(const std::string& name) {
  std::string safe = name.rfind('-', 0) == 0 ? "./" + name : name;
  if (!safe.empty() && std::all_of(safe.begin(), safe.end(), is_plain)) return safe;
  std::string word = "'";
  for (const char c : safe) word += c == '\'' ? std::string("'\\''") : std::string(1, c);
  return word + "'";
}

}  // namespace swingloss
