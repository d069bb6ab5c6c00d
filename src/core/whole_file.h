// SPDX-License-Identifier: Apache-2.0
/// \file whole_file.h
/// Files that appear whole or not at all, also where several programs write the same one.
#pragma once

#include <string>
#include <string_view>

namespace swingloss {

enum class Flushed {
  No,  ///< a crash of the program leaves the old bytes or the new ones
  Yes  ///< so does a power cut
};

/// Writes `bytes` beside `path` under a name that no other writer has
/// (PATH.part-MACHINE-PROCESS-COUNT) and renames it at the end. Missing folders on the way are
/// made. A device or pipe is written to as it is.
/// \return why it could not be done, empty when it was; then nothing is left behind
[[nodiscard]] std::string put_whole_file(const std::string& path,
                                         std::string_view bytes,
                                         Flushed flushed);

/// Whether a device, pipe or socket lies there: renaming a file to its name would destroy it,
/// and root would do that to /dev/null.
[[nodiscard]] bool is_device_or_pipe(const std::string& path);

/// For bytes that are not in memory at once: a name beside `path` that no other writer has.
/// What is written there is to be renamed to `path` at the end, or removed.
[[nodiscard]] std::string half_file_beside(const std::string& path);

/// Removes from `folder` and those below it what writers left that were killed. Half files of
/// a process that runs on this machine stay. A put_whole_file() on another machine whose half
/// file is taken away begins it anew; another writer there ends with a fault. Faults are
/// passed over.
void remove_half_files(const std::string& folder);

}  // namespace swingloss
