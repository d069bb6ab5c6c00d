// SPDX-License-Identifier: Apache-2.0
#include "series/durable_file.h"

#include "core/whole_file.h"

namespace swingloss {

void write_file_durably(const std::string& path, std::string_view text) {
  const std::string fault = put_whole_file(path, text, Flushed::Yes);
  if (fault.empty()) return;
  throw UnwritableError({path,
                         "",
                         "a place that cannot be written (" + fault + ")",
                         "a folder with room and permission to write",
                         "Free some space, or choose another folder."});
}

}  // namespace swingloss
