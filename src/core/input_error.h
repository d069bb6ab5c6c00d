// SPDX-License-Identifier: Apache-2.0
/// \file input_error.h
/// The one exception for input that a person can put right.
#pragma once

#include <stdexcept>
#include <string>

namespace swingloss {

/// What is wrong with an input, in the five parts that every message of the program has.
struct InputFault {
  std::string file;    ///< path as the user gave it; empty when it is not about a file
  std::string place;   ///< "row 7, column width_mm", "field mass_kg.value"; may be empty
  std::string found;   ///< what is there
  std::string wanted;  ///< what is accepted
  std::string next;    ///< what to do
};

/// Thrown for unusable input: missing file, bad number, option out of range. Exit code 2, or
/// exit code 1 where only one bar of a series is touched.
class InputError : public std::runtime_error {
 public:
  explicit InputError(InputFault fault)
      : std::runtime_error(sentence(fault)), fault_(std::move(fault)) {}
  [[nodiscard]] const InputFault& fault() const { return fault_; }

  /// "FILE: PLACE: found FOUND; wanted WANTED. NEXT", leaving out empty parts.
  [[nodiscard]] static std::string sentence(const InputFault& fault);

 private:
  InputFault fault_;
};

}  // namespace swingloss
