// SPDX-License-Identifier: Apache-2.0
/// \file durable_file.h
/// Files that survive a power cut whole or not at all.
#pragma once

#include <string>
#include <string_view>

namespace swingloss {

/// Writes `text` to `path`, making its folders: first beside it under another name, flushed to
/// the disk, then renamed, so that neither a crash nor a full disk leaves half a file. (As
/// core's write_file(), and flushed: a stored swing costs minutes, a report seconds.)
/// \throws InputError  when the place cannot be written
void write_file_durably(const std::string& path, std::string_view text);

}  // namespace swingloss
