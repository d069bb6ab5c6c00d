// SPDX-License-Identifier: Apache-2.0
#include "core/result.h"

namespace swingloss {
namespace {

/// Large letter at the front, a full stop at the end.
std::string as_sentence(std::string text) {
  if (text.empty()) return text;
  if (text.front() >= 'a' && text.front() <= 'z') {
    text.front() = static_cast<char>(text.front() - 'a' + 'A');
  }
  const char last = text.back();
  return last == '.' || last == '?' || last == '!' ? text : text + ".";
}

}  // namespace

std::string sentences_of(const Failure& failure) {
  std::string text = as_sentence(failure.cause);
  if (!failure.advice.empty()) text += " " + as_sentence(failure.advice);
  return text;
}

}  // namespace swingloss
