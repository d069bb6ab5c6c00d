// SPDX-License-Identifier: Apache-2.0
#include "rig/normal_gravity.h"

#include "core/angle.h"
#include "core/expects.h"

#include <cmath>

namespace swingloss {

double normal_gravity_m_per_s2(double latitude_deg,
                               double height_m,
                               const LevelEllipsoid& ellipsoid) {
  expects(std::abs(latitude_deg) <= 90.0, "a latitude is not between -90 and 90 degrees");
  const double sine = std::sin(Angle::from_deg(latitude_deg).rad());
  const double sine2 = sine * sine;
  const double at_sea = ellipsoid.equator_m_per_s2 * (1.0 + ellipsoid.somigliana * sine2) /
                        std::sqrt(1.0 - ellipsoid.eccentricity2 * sine2);
  const double h = height_m / ellipsoid.semi_axis_m;
  const double first =
      1.0 + ellipsoid.flattening + ellipsoid.centrifugal - 2.0 * ellipsoid.flattening * sine2;
  return at_sea * (1.0 - 2.0 * first * h + 3.0 * h * h);
}

Uncertain local_gravity_m_per_s2(double latitude_deg, double height_m) {
  constexpr double kAnomaly_m_per_s2 = 5e-4;
  constexpr double kHeight_m = 100.0;
  constexpr double kFreeAir_per_s2 = 3.086e-6;
  return Uncertain::from(normal_gravity_m_per_s2(latitude_deg, height_m),
                         std::hypot(kAnomaly_m_per_s2, kHeight_m * kFreeAir_per_s2),
                         "rig.gravity",
                         SourceKind::Shared);
}

}  // namespace swingloss
