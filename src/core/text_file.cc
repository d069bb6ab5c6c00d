// SPDX-License-Identifier: Apache-2.0
#include "core/text_file.h"

#include "core/input_error.h"
#include "core/shell_word.h"
#include "core/whole_file.h"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <system_error>

namespace swingloss {

namespace fs = std::filesystem;

bool is_there(const std::string& path) {
  std::error_code error;
  return fs::exists(path, error);
}

std::string read_file(const std::string& path) {
  if (!is_there(path)) {
    throw InputError({path,
                      "",
                      "no such file",
                      "a file that can be read",
                      "Check the spelling and the folder it is looked for in."});
  }
  std::error_code error;
  if (fs::is_directory(path, error)) {
    throw InputError({path, "", "a folder", "a file", "Name the file inside it."});
  }
  std::ifstream in(path, std::ios::binary);
  std::string bytes{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
  if (!in.is_open() || in.bad()) {
    throw InputError({path,
                      "",
                      "a file that cannot be read",
                      "a file that can be read",
                      "Check the permissions of the file."});
  }
  return bytes;
}

void check_folder_of(const std::string& path) {
  const fs::path folder = fs::path(path).parent_path();
  std::error_code error;
  if (folder.empty() || fs::is_directory(folder, error)) return;
  const bool exists = is_there(folder.string());
  throw InputError(
      {path,
       "folder " + folder.string(),
       exists ? "a file" : "no such folder",
       "a folder that is there",
       exists ? "Choose another place."
              : "Check the spelling, or make it: mkdir -p " + shell_word(folder.string())});
}

void write_file(const std::string& path, std::string_view bytes) {
  const std::string fault = put_whole_file(path, bytes, Flushed::No);
  if (fault.empty()) return;
  throw InputError({path,
                    "",
                    "a place that cannot be written (" + fault + ")",
                    "a file that can be written",
                    "Check the folder, its permissions and the free space."});
}

}  // namespace swingloss
