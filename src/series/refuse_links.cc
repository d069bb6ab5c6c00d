// SPDX-License-Identifier: Apache-2.0
#include "series/refuse_links.h"

#include "core/input_error.h"

#include <filesystem>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const fs::path& place, const std::string& found) {
  throw InputError({place.string(),
                    "",
                    found,
                    "files and folders that lie in results/ themselves",
                    "Take it away, or move the whole series to where the results shall be."});
}

}  // namespace

void refuse_links_in(const std::string& folder) {
  const fs::path root(folder);
  std::error_code fault;
  if (fs::is_symlink(root, fault)) refuse(root, "a link to another place");
  if (!fs::exists(root, fault)) return;
  for (auto entry = fs::recursive_directory_iterator(root, fault);
       !fault && entry != fs::recursive_directory_iterator();
       entry.increment(fault)) {
    if (entry->is_symlink()) refuse(entry->path(), "a link to another place");
  }
  if (fault) refuse(root, "a folder that cannot be looked through (" + fault.message() + ")");
}

}  // namespace swingloss
