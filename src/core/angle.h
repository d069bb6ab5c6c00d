// SPDX-License-Identifier: Apache-2.0
/// \file angle.h
/// A plane angle whose unit cannot be mistaken.
#pragma once

namespace swingloss {

/// Half a turn [rad]; the only place where pi is written.
inline constexpr double kPi = 3.14159265358979323846;

/// A plane angle. Say the unit going in and coming out; there is no implicit conversion.
class Angle {
 public:
  constexpr Angle() = default;
  static constexpr Angle from_rad(double rad) { return Angle(rad); }
  static constexpr Angle from_deg(double deg) { return Angle(deg * (kPi / 180.0)); }
  [[nodiscard]] constexpr double rad() const { return rad_; }
  [[nodiscard]] constexpr double deg() const { return rad_ * (180.0 / kPi); }

  constexpr Angle operator-() const { return Angle(-rad_); }
  friend constexpr Angle operator+(Angle a, Angle b) { return Angle(a.rad_ + b.rad_); }
  friend constexpr Angle operator-(Angle a, Angle b) { return Angle(a.rad_ - b.rad_); }
  friend constexpr bool operator<(Angle a, Angle b) { return a.rad_ < b.rad_; }

 private:
  explicit constexpr Angle(double rad) : rad_(rad) {}
  double rad_ = 0.0;
};

}  // namespace swingloss
