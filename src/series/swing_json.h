// SPDX-License-Identifier: Apache-2.0
/// \file swing_json.h
/// One measured clip as text and back: format "swingloss/swing/1".
#pragma once

#include "series/swing_record.h"

#include <string>
#include <vector>

namespace swingloss {

/// The record as JSON: degrees, joules, seconds; angles from hanging rest, positive on the
/// release side; `u` one standard uncertainty; what was not measured is null and a remark says
/// why. Numbers are rounded to ten significant digits, far below any uncertainty, so that
/// reading and writing again gives the same bytes.
///
/// Contributions ("parts") carry the sign of their effect; their squares sum to u squared.
/// \param inputs  what the record was made from (series/store.h); left out when empty
[[nodiscard]] std::string swing_json(const SwingRecord& record, const std::string& inputs = "");

/// "bare", "dots", "sticker", as files spell it.
[[nodiscard]] const char* name_of(TrackMode mode);

/// In what units a view's numbers are written, over those of ViewVector: pixels, degrees, and
/// the logarithm as it is.
[[nodiscard]] ViewVector view_units();

/// Several swings of one recording: {"format": "swingloss/swings/1", "clip", "swings": [...]},
/// each as swing_json() has it.
[[nodiscard]] std::string swings_json(const std::vector<SwingRecord>& records);

/// A record and the mark of its inputs, as read.
struct StoredSwing {
  SwingRecord record;
  std::string inputs;
};

/// Reads what swing_json() wrote.
/// \param name  what messages call the text: its path
/// \throws InputError  not JSON, another format, or a field that is missing or of another kind
[[nodiscard]] StoredSwing parse_swing_json(const std::string& text, const std::string& name);

}  // namespace swingloss
