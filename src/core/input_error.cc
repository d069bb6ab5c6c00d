// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"

namespace swingloss {

std::string InputError::sentence(const InputFault& fault) {
  std::string text;
  if (!fault.file.empty()) text += fault.file + ": ";
  if (!fault.place.empty()) text += fault.place + ": ";
  text += "found " + fault.found + "; wanted " + fault.wanted + ".";
  if (!fault.next.empty()) text += " " + fault.next;
  return text;
}

}  // namespace swingloss
