// SPDX-License-Identifier: Apache-2.0
/// \file write_result.h
/// A result to where the user wants it.
#pragma once

#include <string>

namespace swingloss {

/// Refuses a place in a folder that is not there, before any work is done for it: a check for
/// an option's value. Returns "", the way CLI11 says yes. \throws InputError  as
/// check_folder_of() (core/text_file.h)
std::string check_place(const std::string& place);

/// Writes `text` to a file, or to stdout where `place` is "-".
/// \throws InputError  the folder does not exist, or the file cannot be written
void write_result(const std::string& place, const std::string& text);

}  // namespace swingloss
