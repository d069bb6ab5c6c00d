// SPDX-License-Identifier: Apache-2.0
/// \file decay_record.h
/// What a track without a blow says about the rig.
#pragma once

#include "series/swing_record.h"

namespace swingloss {

/// Where no blow was found (a free swing, or unclear), fits the free decay (swing/fit_decay.h)
/// and keeps it in the record. A track that begins in full swing, so that neither release nor
/// blow can be seen, is a free swing when it swings on for at least six half swings: the
/// refusals of the angles that it cannot show then become notes.
/// \param pendulum  for gravity; nullptr: assumed
void add_decay(SwingRecord& record, const Pendulum* pendulum);

}  // namespace swingloss
