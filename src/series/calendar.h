// SPDX-License-Identifier: Apache-2.0
/// \file calendar.h
/// Dates as people type them, as days that can be subtracted.
#pragma once

#include <optional>
#include <string>

namespace swingloss {

/// Days from 1970-01-01 of "2024-03-01" or "1.3.2024", in the calendar of today carried back;
/// nothing for any other text and for days that no month has.
[[nodiscard]] std::optional<int> day_number(const std::string& date);

}  // namespace swingloss
