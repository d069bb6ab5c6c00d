// SPDX-License-Identifier: Apache-2.0
#include "cli/write_result.h"

#include "core/text_file.h"

#include <iostream>

namespace swingloss {

std::string check_place(const std::string& place) {
  if (place != "-") check_folder_of(place);
  return "";
}

void write_result(const std::string& place, const std::string& text) {
  if (place == "-") {
    std::cout << text;
  } else {
    check_folder_of(place);
    write_file(place, text);
  }
}

}  // namespace swingloss
