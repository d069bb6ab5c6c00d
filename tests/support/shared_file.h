// SPDX-License-Identifier: Apache-2.0
/// \file shared_file.h
/// Files from outside, where they lie beside the checkout.
#pragma once

#include <filesystem>
#include <iostream>
#include <string>

namespace swingloss::test {

/// A file of the shared folder; nothing (said on stderr) when it is not there.
inline std::string shared_file(const std::string& name) {
  std::string path = std::string(SWINGLOSS_SOURCE_DIR) + "/../shared/" + name;
  if (std::filesystem::exists(path)) return path;
  std::cerr << "skipped: " << name << " is not beside the checkout\n";
  return "";
}

}  // namespace swingloss::test
