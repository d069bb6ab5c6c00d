// SPDX-License-Identifier: Apache-2.0
/// \file temp_folder.h
/// A folder that is empty at the start of a test and gone at its end.
#pragma once

#include <filesystem>
#include <fstream>
#include <iterator>
#include <stdexcept>
#include <string>
#include <vector>

#include <stdlib.h>

namespace swingloss::test {

class TempFolder {
 public:
  TempFolder() {
    const auto pattern = std::filesystem::temp_directory_path() / "swingloss-test-XXXXXX";
    std::string name = pattern.string();
    if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path_ = name;
  }
  TempFolder(const TempFolder&) = delete;
  TempFolder& operator=(const TempFolder&) = delete;
  ~TempFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
  }

  [[nodiscard]] std::string path() const { return path_.string(); }
  /// Place of a file in the folder, whether it exists or not.
  [[nodiscard]] std::string operator/(const std::string& name) const {
    return (path_ / name).string();
  }

  /// Writes a file, making its folders; returns its place.
  std::string write(const std::string& name, const std::string& text) const {
    const auto place = path_ / name;
    std::filesystem::create_directories(place.parent_path());
    std::ofstream(place, std::ios::binary) << text;
    return place.string();
  }

 private:
  std::filesystem::path path_;
};

/// All bytes of a file; empty when there is none.
inline std::string bytes_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace swingloss::test
