// SPDX-License-Identifier: Apache-2.0
#include "series/same_clip.h"

#include "core/input_error.h"
#include "series/fingerprint.h"

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <map>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

using Group = std::vector<std::size_t>;

/// The place behind a path, links followed; empty where there is none.
std::string place_of(const std::string& path) {
  std::error_code error;
  if (path.empty()) return "";
  const fs::path place = fs::canonical(path, error);
  return error ? "" : place.string();
}

std::string mark_of(const std::string& place) {
  try {
    return content_mark(place);
  } catch (const InputError&) {
    return place;
  }
}

/// Places of files by size: only those can have the same bytes.
std::map<std::uintmax_t, std::vector<std::string>> by_size(
    const std::map<std::string, Group>& by_place) {
  std::map<std::uintmax_t, std::vector<std::string>> sizes;
  for (const auto& [place, members] : by_place) {
    std::error_code error;
    if (!fs::is_regular_file(place, error)) continue;
    const std::uintmax_t size = fs::file_size(place, error);
    if (!error) sizes[size].push_back(place);
  }
  return sizes;
}

/// Takes the members of places with the same content together, under the first of them.
void join_same_content(std::map<std::string, Group>& by_place) {
  for (const auto& [size, places] : by_size(by_place)) {
    if (places.size() < 2) continue;
    std::map<std::string, std::string> first_with;
    for (const std::string& place : places) {
      const auto [first, is_new] = first_with.emplace(mark_of(place), place);
      if (is_new) continue;
      Group& joined = by_place[first->second];
      Group& more = by_place[place];
      joined.insert(joined.end(), more.begin(), more.end());
      more.clear();
    }
  }
}

}  // namespace

std::vector<Group> same_clips(const std::vector<std::string>& paths) {
  std::map<std::string, Group> by_place;
  for (std::size_t i = 0; i < paths.size(); ++i) {
    const std::string place = place_of(paths[i]);
    if (!place.empty()) by_place[place].push_back(i);
  }
  join_same_content(by_place);
  std::map<std::size_t, Group> in_order;
  for (auto& [place, members] : by_place) {
    if (members.size() < 2) continue;
    std::sort(members.begin(), members.end());
    in_order[members.front()] = members;
  }
  std::vector<Group> groups;
  groups.reserve(in_order.size());
  for (const auto& [first, members] : in_order) groups.push_back(members);
  return groups;
}

}  // namespace swingloss
