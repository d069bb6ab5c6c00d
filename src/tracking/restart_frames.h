// SPDX-License-Identifier: Apache-2.0
/// \file restart_frames.h
/// Second chance for frames that were drawn to something that is not the arm.
#pragma once

#include "tracking/exposure_search.h"

#include <vector>

namespace swingloss {

/// Frames that stand off the smooth course of their neighbours are searched anew: directions
/// from the neighbours' course to the present one, and a degree on either side, each scored by
/// agreement_of_frame(). The best wins. Less off course counts for frames that agree with the
/// arm clearly less than the rest. A shadow on the stand right behind the arm, of the arm's own
/// tone, holds a frame a degree off; from there no small step leads home, though the true place
/// agrees far better.
///
/// \param scene  with the directions as they are \param frame_score  one a crop, at those
/// \return directions to go on from, one a crop
std::vector<double> restart_frames(const RegistrationScene& scene,
                                   const std::vector<double>& frame_score);

}  // namespace swingloss
