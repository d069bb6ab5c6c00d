// SPDX-License-Identifier: Apache-2.0
/// \file durable_file.h
/// Files that survive a power cut whole or not at all.
#pragma once

#include <string>
#include <string_view>

namespace swingloss {

/// Writes `text` to `path`, making its folders: as core's write_file(), and flushed to the disk,
/// since a stored swing costs minutes and a report seconds.
/// \throws InputError  when the place cannot be written
void write_file_durably(const std::string& path, std::string_view text);

}  // namespace swingloss
