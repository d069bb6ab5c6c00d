// SPDX-License-Identifier: Apache-2.0
/// \file percent_shear.h
/// Percent shear of a broken metal bar.
#pragma once

#include "surface/find_flat_part.h"
#include "surface/measures.h"

namespace swingloss {

/// Section under the notch of the usual bar of 10 x 10 mm [ASTM_E23].
inline constexpr double kUsualSection_m2 = 80e-6;

/// 100 (1 - A B / section) [ASTM_E23]; 100 where A or B is 0.
/// \param a_m, b_m      mean width (along the notch) and depth of the flat, bright part; >= 0
/// \param section_m2    of the whole section; > 0
/// \return percent, 0 where the flat part is as large as the section or larger
[[nodiscard]] double percent_shear(double a_m,
                                   double b_m,
                                   double section_m2 = kUsualSection_m2);

/// Percent shear from the outline of the flat, bright part on the photograph. Needs no scale:
/// the share of the broken part that it covers, seen square.
/// \param flat_px  corners of the part, at least three, in the upright photograph
/// \return Failure `flat-part-outside`: a corner lies off the broken part by more than a tenth
[[nodiscard]] Result<ShearReading> shear_from_outline(const FaceMeasures& face,
                                                      const Polygon& flat_px);

/// Percent shear from A and B; over the face's own section where the photograph gave one, else
/// over the usual one, and `basis` says which.
[[nodiscard]] ShearReading shear_from_sizes(const FaceMeasures& face, double a_m, double b_m);

/// Percent shear from the flat part as it was found, with its uncertainty.
[[nodiscard]] ShearReading shear_found(const FaceMeasures& face, const FlatPart& flat);

}  // namespace swingloss
