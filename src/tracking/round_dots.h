// SPDX-License-Identifier: Apache-2.0
/// \file round_dots.h
/// Round marks on the arm, found on its learnt look.
#pragma once

#include "tracking/body_template.h"

#include <vector>

namespace swingloss {

/// Round marks with strong contrast all around, farther from the axle than a fifth of the arm
/// (nearer ones are the hub). Best contrast first, none overlapping.
std::vector<RoundDot> find_round_dots(const BodyTemplate& body);

/// Puts the dots' centres where the present look has them, and chooses their windows anew.
void centre_dots(BodyTemplate& body);

}  // namespace swingloss
