// SPDX-License-Identifier: Apache-2.0
/// \file durable_file.h
/// Files that survive a power cut whole or not at all.
#pragma once

#include "core/input_error.h"

#include <string>
#include <string_view>

namespace swingloss {

/// A place that cannot be written: unlike other faults of input no single bar's, since what
/// follows cannot be kept either.
class UnwritableError : public InputError {
 public:
  using InputError::InputError;
};

/// Writes `text` to `path`, making its folders: as core's write_file(), and flushed to the
/// disk, since a stored swing costs minutes and a report seconds. \throws UnwritableError  when
/// the place cannot be written
void write_file_durably(const std::string& path, std::string_view text);

}  // namespace swingloss
