// SPDX-License-Identifier: Apache-2.0
/// \file normal_gravity.h
/// Gravity from a place on the Earth.
#pragma once

#include "core/uncertain.h"

namespace swingloss {

/// Constants of a level ellipsoid.
struct LevelEllipsoid {
  double equator_m_per_s2 = 0.0;  ///< normal gravity at the equator
  double somigliana = 0.0;        ///< k; dimensionless
  double eccentricity2 = 0.0;     ///< first eccentricity squared; dimensionless
  double semi_axis_m = 0.0;
  double flattening = 0.0;
  double centrifugal = 0.0;  ///< m = w^2 a^2 b / GM; dimensionless
};

/// [WGS84], as published.
inline constexpr LevelEllipsoid kWgs84{9.7803253359,
                                       0.00193185265241,
                                       0.00669437999014,
                                       6378137.0,
                                       1.0 / 298.257223563,
                                       0.00344978650684};

/// Normal gravity [m/s^2] by the formula of Somigliana, taken up to a height by its expansion
/// to the second order [HeiskanenMoritz1967 2-78, 2-123]:
///
///   g0 = ge (1 + k sin^2 phi) / sqrt(1 - e^2 sin^2 phi)
///   g  = g0 (1 - 2/a (1 + f + m - 2 f sin^2 phi) h + 3 h^2/a^2)
///
/// \param latitude_deg  geodetic, -90 to 90;  \param height_m  above the ellipsoid
/// \throws std::logic_error  latitude out of range
///
/// Accuracy: the formula to 1e-9; real gravity differs by what lies below, see local_gravity().
[[nodiscard]] double normal_gravity_m_per_s2(double latitude_deg,
                                             double height_m,
                                             const LevelEllipsoid& ellipsoid = kWgs84);

/// The same as an estimate of the local gravity, u = 5e-4 m/s^2 (50 mGal: common size of
/// free-air anomalies in hilly country; common practice, no source) and that of 100 m of
/// height. Source `rig.gravity`, shared.
[[nodiscard]] Uncertain local_gravity_m_per_s2(double latitude_deg, double height_m);

}  // namespace swingloss
