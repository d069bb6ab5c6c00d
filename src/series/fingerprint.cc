// SPDX-License-Identifier: Apache-2.0
#include "series/fingerprint.h"

#include "core/input_error.h"
#include "core/text_file.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <vector>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

struct Mark {
  std::uint64_t bytes = 0;
  std::uint64_t hash = fnv1a("");
};

[[noreturn]] void refuse(const std::string& path) {
  throw InputError({path,
                    "",
                    "no such file, or one that may not be read",
                    "a readable file",
                    "Check the name, and that the disk or card is still there."});
}

void add_file(Mark& mark, const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  if (!in) refuse(path);
  std::vector<char> block(std::size_t{1} << 20);
  while (in.read(block.data(), static_cast<std::streamsize>(block.size())) || in.gcount() > 0) {
    const auto read = static_cast<std::size_t>(in.gcount());
    mark.hash = fnv1a({block.data(), read}, mark.hash);
    mark.bytes += read;
  }
  if (in.bad()) refuse(path);
}

std::vector<fs::path> files_in(const std::string& folder) {
  std::vector<fs::path> files;
  for (const auto& entry : fs::directory_iterator(folder)) {
    if (entry.is_regular_file()) files.push_back(entry.path());
  }
  std::sort(files.begin(), files.end());
  return files;
}

}  // namespace

std::uint64_t fnv1a(std::string_view bytes, std::uint64_t state) {
  for (const char c : bytes) {
    state ^= static_cast<unsigned char>(c);
    state *= 1099511628211ULL;
  }
  return state;
}

std::string content_mark(const std::string& path) {
  Mark mark;
  std::error_code error;  // as for a name longer than names may be; add_file says what is wrong
  if (fs::is_directory(path, error)) {
    for (const fs::path& file : files_in(path)) {
      mark.hash = fnv1a(file.filename().string(), mark.hash);
      add_file(mark, file.string());
    }
  } else {
    add_file(mark, path);
  }
  std::array<char, 48> text{};
  std::snprintf(text.data(),
                text.size(),
                "%llu-%016llx",
                static_cast<unsigned long long>(mark.bytes),
                static_cast<unsigned long long>(mark.hash));
  return text.data();
}

std::string mark_if_there(const std::string& path) {
  return is_there(path) ? content_mark(path) : "none";
}

}  // namespace swingloss
