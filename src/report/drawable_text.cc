// SPDX-License-Identifier: Apache-2.0
#include "report/drawable_text.h"

#include "report/escape.h"
#include "report/run_program.h"

#include <cstdint>
#include <iterator>
#include <map>
#include <mutex>
#include <sstream>

namespace swingloss {
namespace {

constexpr const char* kNoSign = "\xE2\x96\xA1";  // a white square
/// Latin letters with their marks: every text font has them.
constexpr std::uint32_t kAlwaysThere = 0x250;

bool is_begin(char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U; }

/// \param sequence  one character of well-formed UTF-8
std::uint32_t code_point_of(const std::string& sequence) {
  constexpr unsigned kMasks[] = {0x7F, 0x1F, 0x0F, 0x07};
  std::uint32_t code = static_cast<unsigned char>(sequence.front()) &
                       kMasks[(sequence.size() - 1) % std::size(kMasks)];
  for (std::size_t i = 1; i < sequence.size(); ++i)
    code = (code << 6U) | (static_cast<unsigned char>(sequence[i]) & 0x3FU);
  return code;
}

/// Joiners and choosers of a look: they stand for nothing by themselves.
bool is_unseen(std::uint32_t code) {
  return code == 0x200C || code == 0x200D || (code >= 0xFE00 && code <= 0xFE0F);
}

bool ask_for_font(std::uint32_t code) {
  std::ostringstream pattern;
  pattern << ":charset=" << std::hex << code;
  return !run_program({"fc-list", pattern.str(), "family"}, "").output.empty();
}

bool has_font(std::uint32_t code) {
  static std::mutex mutex;
  static std::map<std::uint32_t, bool> known;
  const std::lock_guard<std::mutex> lock(mutex);
  const auto found = known.find(code);
  if (found != known.end()) return found->second;
  return known[code] = ask_for_font(code);
}

}  // namespace

std::string drawable_text(const std::string& text) {
  const std::string clean = clean_text(text);
  std::string drawable;
  for (std::size_t at = 0; at < clean.size();) {
    std::size_t end = at + 1;
    while (end < clean.size() && !is_begin(clean[end])) ++end;
    const std::string sequence = clean.substr(at, end - at);
    const std::uint32_t code = code_point_of(sequence);
    const bool there = code < kAlwaysThere || is_unseen(code) || has_font(code);
    drawable += there ? sequence : kNoSign;
    at = end;
  }
  return drawable;
}

}  // namespace swingloss
