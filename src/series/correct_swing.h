// SPDX-License-Identifier: Apache-2.0
/// \file correct_swing.h
/// Corrections by hand, put on top of what the program measured from a clip.
#pragma once

#include "series/corrections.h"
#include "series/swing_record.h"
#include "swing/pendulum.h"

#include <map>
#include <string>
#include <vector>

namespace swingloss {

/// A record with corrections in it.
struct CorrectedSwing {
  SwingRecord record;
  /// By number of the correction: why it could not be used.
  std::map<int, std::string> not_used;
};

/// An axle or another blow: the track is taken about that axle, or cut to that blow
/// (series/picture_angle.h), and the pendulum's law fitted again (swing/measure_swing.h).
///
/// Rest, release, turning point: what is marked becomes an angle in the plane of swing by the
/// view; what was moved between mark and law by the view's doubts at that time stays. What is
/// not corrected keeps its direction in the picture, so that another rest moves release and
/// rise. Then, as everywhere,
///
///   W = M (cos rise - cos release) - W_f,   not broken: W > M (1 - cos release) - W_f
///
/// W_f follows the new path: by the losses of the rig, or those that the clip itself showed
/// (friction_work_J()), the difference between the two paths on top of what was fitted. Where
/// the losses are not known, in proportion to the angle swept [ISO148-2]. The sources of a
/// hand are `hand.rest`, `hand.release`, `hand.rise`, of this bar alone.
///
/// A turning point marked in a clip of unclear outcome means that the bar broke. Refusals that
/// a correction overrules become notes.
///
/// \param standing  of this bar, each kind once
[[nodiscard]] CorrectedSwing correct_swing(SwingRecord automatic,
                                           const std::vector<Correction>& standing,
                                           const Pendulum* pendulum);

}  // namespace swingloss
