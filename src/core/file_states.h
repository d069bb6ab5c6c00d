// SPDX-License-Identifier: Apache-2.0
/// \file file_states.h
/// Whether files are as they were, asked of the file system instead of read.
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <vector>

namespace swingloss {

/// Sizes, times and numbers of files at one moment. Two that are equal are of the same bytes,
/// but for files of the last moments before (since()): a file system's clock has steps, and a
/// file written twice in one step shows one time.
class FileStates {
 public:
  /// Takes in what lies at `path`: a file, a folder with all that is below it (a link below
  /// counts as what it leads to, and is not walked into), or that nothing is there.
  void add(const std::string& path);

  /// Leaves out `path` and what is below it.
  void leave_out(const std::string& path);

  /// A line for each; empty where a folder could not be looked through.
  [[nodiscard]] std::string text() const;

  /// Files, no folders, that were last written, renamed or given other rights at `moment_ns`
  /// or later, in order.
  [[nodiscard]] std::vector<std::string> since(std::int64_t moment_ns) const;

 private:
  struct State {
    std::string text;
    bool is_file = false;
    std::int64_t changed_ns = 0;
  };

  [[nodiscard]] static State state_of(const std::string& path);

  std::map<std::string, State> states_;
  bool complete_ = true;
};

/// When a file was last written, renamed or given other rights, by its file system's clock
/// [ns since 1970]; 0 where nothing is there.
[[nodiscard]] std::int64_t changed_ns(const std::string& path);

}  // namespace swingloss
