// SPDX-License-Identifier: Apache-2.0
#include "cli/write_result.h"

#include "core/text_file.h"

#include <iostream>

namespace swingloss {

void write_result(const std::string& place, const std::string& text) {
  if (place == "-") {
    std::cout << text;
  } else {
    write_file(place, text);
  }
}

}  // namespace swingloss
