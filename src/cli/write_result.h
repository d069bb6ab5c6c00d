// SPDX-License-Identifier: Apache-2.0
/// \file write_result.h
/// A result to where the user wants it.
#pragma once

#include <string>

namespace swingloss {

/// Writes `text` to a file, or to stdout where `place` is "-".
/// \throws InputError  the file cannot be written
void write_result(const std::string& place, const std::string& text);

}  // namespace swingloss
