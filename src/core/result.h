// SPDX-License-Identifier: Apache-2.0
/// \file result.h
/// A value, or the reason why there is none.
#pragma once

#include "core/expects.h"

#include <string>
#include <utility>
#include <variant>

namespace swingloss {

/// Why a measurement cannot honestly be made. Not an exception: an expected answer.
struct Failure {
  std::string code;    ///< kebab-case, stable, for programs: "no-pendulum"
  std::string cause;   ///< what was found, and what would be needed
  std::string advice;  ///< what the person at the rig can do about it
};

/// Cause and advice as two sentences: "The camera moved. Fix it."
[[nodiscard]] std::string sentences_of(const Failure& failure);

/// Either a `T` or a Failure. Never both, never neither.
template <typename T>
class [[nodiscard]] Result {
 public:
  // NOLINTNEXTLINE(google-explicit-constructor): `return fit;` reads
  Result(T value) : held_(std::move(value)) {}
  // NOLINTNEXTLINE(google-explicit-constructor): `return Failure{...};` likewise
  Result(Failure failure) : held_(std::move(failure)) {}
  [[nodiscard]] bool ok() const { return std::holds_alternative<T>(held_); }
  /// \throws std::logic_error when !ok()
  [[nodiscard]] const T& value() const& {
    expects(ok(), "Result::value() of a failure");
    return std::get<T>(held_);
  }
  [[nodiscard]] T&& value() && {
    expects(ok(), "Result::value() of a failure");
    return std::get<T>(std::move(held_));
  }
  /// \throws std::logic_error when ok()
  [[nodiscard]] const Failure& failure() const {
    expects(!ok(), "Result::failure() of a value");
    return std::get<Failure>(held_);
  }

 private:
  std::variant<T, Failure> held_;
};

}  // namespace swingloss
