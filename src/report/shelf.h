// SPDX-License-Identifier: Apache-2.0
/// \file shelf.h
/// The results folder while it is being filled.
#pragma once

#include <mutex>
#include <set>
#include <string>
#include <vector>

namespace swingloss {

/// Takes files, from several threads at once, and knows which of an earlier run's are stale.
class Shelf {
 public:
  explicit Shelf(std::string folder) : folder_(std::move(folder)) {}

  /// Writes a file, whole or not at all. \param name  path below the folder
  /// \throws InputError  it cannot be written
  void put(const std::string& name, const std::string& bytes);

  /// A file that lies there already belongs to this run too.
  void keep(const std::string& name);

  /// Takes away charts, plates and films of an earlier run that this one did not write again,
  /// and what a killed run left half written.
  /// Files that do not bear our names stay.
  void remove_stale() const;

  [[nodiscard]] std::string path_of(const std::string& name) const;
  [[nodiscard]] std::vector<std::string> names() const {
    return {names_.begin(), names_.end()};
  }

 private:
  void remove_stale_films() const;

  std::string folder_;
  std::mutex mutex_;
  std::set<std::string> names_;
};

}  // namespace swingloss
