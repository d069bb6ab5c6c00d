// SPDX-License-Identifier: Apache-2.0
#include "report/drawn_from.h"

#include "core/parallel.h"
#include "core/text_file.h"
#include "series/fingerprint.h"

#include <filesystem>
#include <sstream>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

constexpr const char* kName = "drawn-from.txt";

}  // namespace

DrawnFrom::DrawnFrom(const Shelf& shelf, const std::string& source)
    : shelf_(shelf), source_mark_("drawn from " + std::to_string(fnv1a(source))) {}

std::string DrawnFrom::text_for(const std::vector<std::string>& names, int jobs) const {
  std::vector<std::string> marks(names.size());
  for_each_index(names.size(), jobs, [&](std::size_t i) {
    marks[i] = mark_if_there(shelf_.path_of(names[i]));
  });
  std::string text = source_mark_ + "\n";
  for (std::size_t i = 0; i < names.size(); ++i) text += marks[i] + " " + names[i] + "\n";
  return text;
}

std::optional<std::vector<std::string>> DrawnFrom::unchanged(int jobs) const {
  const std::string path = shelf_.path_of(kName);
  if (!fs::is_regular_file(path)) return std::nullopt;
  const std::string text = read_file(path);
  std::istringstream lines(text);
  std::string line;
  if (!std::getline(lines, line) || line != source_mark_) return std::nullopt;
  std::vector<std::string> names;
  while (std::getline(lines, line)) {
    const std::size_t space = line.find(' ');
    if (space == std::string::npos) return std::nullopt;
    names.push_back(line.substr(space + 1));
  }
  if (text_for(names, jobs) != text) return std::nullopt;
  return names;
}

void DrawnFrom::note(int jobs) const {
  write_file(shelf_.path_of(kName), text_for(shelf_.names(), jobs));
}

void DrawnFrom::forget() const {
  std::error_code fault;
  fs::remove(shelf_.path_of(kName), fault);
}

}  // namespace swingloss
