// SPDX-License-Identifier: Apache-2.0
/// \file scratch_file.h
/// Bytes as a file, for readers that take a path; gone at its end.
#pragma once

#include <filesystem>
#include <fstream>
#include <stdexcept>
#include <string>

#include <unistd.h>

namespace swingloss::test {

class ScratchFile {
 public:
  explicit ScratchFile(const std::string& bytes)
      : path_(std::filesystem::temp_directory_path() /
              ("swingloss-fuzz-" + std::to_string(::getpid()))) {
    std::ofstream out(path_, std::ios::binary);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (!out) throw std::runtime_error("no scratch file");
  }
  ScratchFile(const ScratchFile&) = delete;
  ScratchFile& operator=(const ScratchFile&) = delete;
  ~ScratchFile() {
    std::error_code ignored;
    std::filesystem::remove(path_, ignored);
  }
  [[nodiscard]] std::string path() const { return path_.string(); }

 private:
  std::filesystem::path path_;
};

/// Runs one reader; a refusal is a good end.
template <typename Refusal, typename Reader>
void read_or_refuse(const Reader& reader) {
  try {
    reader();
  } catch (const Refusal&) {
    return;
  }
}

}  // namespace swingloss::test
