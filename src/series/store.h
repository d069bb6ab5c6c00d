// SPDX-License-Identifier: Apache-2.0
/// \file store.h
/// Finished swings, kept in results/ and used again while their inputs are the same.
#pragma once

#include "series/swing_record.h"

#include <optional>
#include <string>

namespace swingloss {

/// What a swing was measured from, as one readable line: program and method, contents of the
/// clip, contents of the rig file and of the free swings that its friction came from.
/// \param rig_mark  one line for the rig; empty: no rig
/// \throws InputError  the clip cannot be read
[[nodiscard]] std::string inputs_mark(const std::string& clip_path,
                                      const std::string& rig_mark);

/// The record stored at `path`; nothing when there is none, when it is damaged, or when its
/// inputs are others: then it has to be measured again.
[[nodiscard]] std::optional<SwingRecord> stored_swing(const std::string& path,
                                                      const std::string& inputs);

/// Stores a record, whole or not at all, and returns it as a later run will read it, so that
/// first run and rerun go on from the same numbers.
/// \throws InputError  the place cannot be written
SwingRecord keep_swing(const std::string& path,
                       const std::string& inputs,
                       const SwingRecord& record);

/// Takes away what an earlier run stored for a bar that can no longer be measured.
void forget_swing(const std::string& path);

}  // namespace swingloss
