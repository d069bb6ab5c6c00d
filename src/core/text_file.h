// SPDX-License-Identifier: Apache-2.0
/// \file text_file.h
/// A file's bytes, read whole and written whole.
#pragma once

#include <string>
#include <string_view>

namespace swingloss {

/// Whether something lies there. What cannot be asked for (a name longer than names may be, a
/// folder that may not be entered) is not there.
[[nodiscard]] bool is_there(const std::string& path);

/// All bytes of a file.
/// \throws InputError there is no such file, it is a folder, or it cannot be read
[[nodiscard]] std::string read_file(const std::string& path);

/// Writes beside `path` first and renames at the end, so that a reader finds the old bytes or
/// all of the new ones and nothing in between, also after a crash of the program. Missing
/// folders on the way are made.
/// \throws InputError the place cannot be written
void write_file(const std::string& path, std::string_view bytes);

/// For a file that a person named: a folder that is not there is most likely a slip, so it is
/// refused and not made.
/// \throws InputError the folder of `path` does not exist, or is a file
void check_folder_of(const std::string& path);

}  // namespace swingloss
