// SPDX-License-Identifier: Apache-2.0
#include "series/store.h"

#include "core/input_error.h"
#include "core/text_file.h"
#include "series/durable_file.h"
#include "series/fingerprint.h"
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
  std::error_code error;
  if (!std::filesystem::is_regular_file(path, error)) return {};
  try {
    StoredSwing stored = parse_swing_json(read_file(path), path);
    if (stored.inputs == inputs) return std::move(stored.record);
  } catch (const InputError&) {
    return {};
  }
  return {};
}

SwingRecord keep_swing(const std::string& path,
                       const std::string& inputs,
                       const SwingRecord& record) {
  const std::string text = swing_json(record, inputs);
  write_file_durably(path, text);
  return parse_swing_json(text, path).record;
}

void forget_swing(const std::string& path) {
  std::error_code ignored;
  std::filesystem::remove(path, ignored);
}

}  // namespace swingloss
