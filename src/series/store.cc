// SPDX-License-Identifier: Apache-2.0
#include "series/store.h"

#include "series/fingerprint.h"
#include "series/stored_record.h"
#include "series/swing_json.h"
#include "series/version.h"

#include <filesystem>

namespace swingloss {

std::string inputs_mark(const std::string& clip_path, const std::string& rig_mark) {
  return std::string("swingloss ") + kVersion + " method " + std::to_string(kMethodRevision) +
         "; clip " + content_mark(clip_path) + "; rig " +
         (rig_mark.empty() ? "none" : rig_mark);
}

std::optional<SwingRecord> stored_swing(const std::string& path, const std::string& inputs) {
  return stored_record(path, inputs, parse_swing_json);
}

SwingRecord keep_swing(const std::string& path,
                       const std::string& inputs,
                       const SwingRecord& record) {
  return keep_record(path, swing_json(record, inputs), parse_swing_json);
}

void forget_swing(const std::string& path) {
  std::error_code ignored;
  std::filesystem::remove(path, ignored);
}

}  // namespace swingloss
