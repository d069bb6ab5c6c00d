// SPDX-License-Identifier: Apache-2.0
#include "desk/uploads.h"

#include "core/input_error.h"
#include "core/whole_file.h"
#include "series/add_specimen.h"

#include <algorithm>
#include <filesystem>
#include <map>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void refuse(const std::string& path, const std::string& found) {
  throw InputError({path,
                    "",
                    found,
                    "a file that can be kept in the series folder",
                    "Free some space, or copy the file there by other means."});
}

/// A name that is not taken: "clip.mp4", "clip-2.mp4", ...
std::string free_name(const fs::path& shelf, const std::string& name) {
  const fs::path as_given(name);
  std::string tried = name;
  for (int k = 2; fs::exists(shelf / tried); ++k)
    tried = as_given.stem().string() + "-" + std::to_string(k) + as_given.extension().string();
  return tried;
}

bool is_inside(const fs::path& folder, const fs::path& file) {
  const auto parted = std::mismatch(folder.begin(), folder.end(), file.begin(), file.end());
  return parted.first == folder.end();
}

}  // namespace

Upload::Upload(const std::string& folder,
               const std::string& shelf,
               const std::string& given_name) {
  if (shelf != "clips" && shelf != "photos") refuse(shelf, "a shelf that is none");
  const fs::path place = fs::path(folder) / shelf;
  std::error_code error;
  fs::create_directories(place, error);
  if (error) refuse(place.string(), error.message());
  shelf_path_ = place.string();
  name_ = free_name(place, safe_file_name(given_name));
  part_ = half_file_beside((place / name_).string());
  out_.open(part_, std::ios::binary | std::ios::trunc);
  if (!out_) refuse(part_, "a place that cannot be written");
}

Upload::~Upload() {
  if (finished_) return;
  out_.close();
  std::error_code ignored;
  fs::remove(part_, ignored);
}

bool Upload::write(const char* bytes, std::size_t count) {
  out_.write(bytes, static_cast<std::streamsize>(count));
  bytes_ += count;
  return static_cast<bool>(out_);
}

std::string Upload::finish() {
  out_.close();
  if (bytes_ == 0) refuse(name_, "an empty file");
  if (!out_) refuse(part_, "a place that takes no more");
  name_ = free_name(shelf_path_, name_);
  std::error_code error;
  fs::rename(part_, fs::path(shelf_path_) / name_, error);
  if (error) refuse(part_, error.message());
  finished_ = true;
  return name_;
}

std::string media_type_of(const std::string& path) {
  static const std::map<std::string, std::string> types = {
      {".html", "text/html; charset=utf-8"},
      {".svg", "image/svg+xml"},
      {".png", "image/png"},
      {".json", "application/json"},
      {".csv", "text/csv; charset=utf-8"},
      {".txt", "text/plain; charset=utf-8"},
      {".mp4", "video/mp4"}};
  const auto found = types.find(fs::path(path).extension().string());
  return found == types.end() ? std::string() : found->second;
}

std::string file_in_results(const std::string& results_folder, const std::string& path) {
  if (path.find('\\') != std::string::npos || path.find('\0') != std::string::npos) return {};
  for (const fs::path& part : fs::path(path)) {
    const std::string name = part.string();
    if (name.empty() || name.front() == '.' || name == "/") return {};
  }
  std::error_code error;
  const fs::path folder = fs::canonical(results_folder, error);
  if (error) return {};
  const fs::path file = fs::canonical(folder / path, error);
  if (error || !is_inside(folder, file) || !fs::is_regular_file(file, error)) return {};
  return media_type_of(file.string()).empty() ? std::string() : file.string();
}

}  // namespace swingloss
