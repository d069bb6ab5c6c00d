// SPDX-License-Identifier: Apache-2.0
#include "core/file_states.h"

#include <algorithm>
#include <filesystem>

#include <sys/stat.h>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

std::int64_t ns_of(const timespec& time) {
  return std::int64_t{1000000000} * time.tv_sec + time.tv_nsec;
}

/// The later of the two times: file systems without the second show the first.
std::int64_t changed_ns(const struct stat& found) {
  return std::max(ns_of(found.st_mtim), ns_of(found.st_ctim));
}

}  // namespace

FileStates::State FileStates::state_of(const std::string& path) {
  struct stat found {};
  if (::stat(path.c_str(), &found) != 0) return {"none", false, 0};
  if (S_ISDIR(found.st_mode)) return {"folder", false, 0};
  std::string text;
  for (const std::int64_t number : {static_cast<std::int64_t>(found.st_size),
                                    static_cast<std::int64_t>(found.st_ino),
                                    static_cast<std::int64_t>(found.st_mode),
                                    ns_of(found.st_mtim),
                                    ns_of(found.st_ctim)})
    text += std::to_string(number) + " ";
  text.pop_back();
  return {text, S_ISREG(found.st_mode), changed_ns(found)};
}

void FileStates::add(const std::string& path) {
  const State state = state_of(path);
  states_[path] = state;
  if (state.text != "folder") return;
  std::error_code fault;
  const auto options = fs::directory_options::skip_permission_denied;
  for (auto entry = fs::recursive_directory_iterator(path, options, fault);
       !fault && entry != fs::recursive_directory_iterator();
       entry.increment(fault))
    states_[entry->path().string()] = state_of(entry->path().string());
  if (fault) complete_ = false;
}

void FileStates::leave_out(const std::string& path) {
  states_.erase(path);
  const std::string below = path + "/";
  auto each = states_.lower_bound(below);
  while (each != states_.end() && each->first.compare(0, below.size(), below) == 0)
    each = states_.erase(each);
}

std::string FileStates::text() const {
  std::string lines;
  if (!complete_) return lines;
  for (const auto& [path, state] : states_) lines += state.text + " " + path + "\n";
  return lines;
}

std::vector<std::string> FileStates::since(std::int64_t moment_ns) const {
  std::vector<std::string> files;
  for (const auto& [path, state] : states_) {
    if (state.is_file && state.changed_ns >= moment_ns) files.push_back(path);
  }
  return files;
}

std::int64_t changed_ns(const std::string& path) {
  struct stat found {};
  return ::stat(path.c_str(), &found) == 0 ? changed_ns(found) : 0;
}

}  // namespace swingloss
