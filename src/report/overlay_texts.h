// SPDX-License-Identifier: Apache-2.0
/// \file overlay_texts.h
/// What an overlay says, and from which moment on.
#pragma once

#include "series/swing_record.h"

#include <limits>
#include <string>
#include <vector>

namespace swingloss {

struct OverlayOptions {
  std::string title;      ///< over the read-outs; the bar's name
  std::string stamp;      ///< for invented data: said in every picture
  bool rig_given = true;  ///< else no energy was to be expected
  bool sound = false;     ///< keep the clip's sound under the part at its own speed
  int threads = 0;        ///< of the decoder; 0 takes the machine's
};

/// One line of the read-outs: a dash until its moment has come.
struct ReadOut {
  std::string name, words;
  double from_s = -std::numeric_limits<double>::infinity();  ///< clip time
};

/// Release, blow, rise and energy of the swing. What is not measured says so from the start.
[[nodiscard]] std::vector<ReadOut> read_outs(const SwingRecord& record, bool rig_given);

/// Why there is no energy although one was to be expected; else empty.
[[nodiscard]] std::string cause_words(const SwingRecord& record, bool rig_given);

}  // namespace swingloss
