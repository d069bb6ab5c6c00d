// SPDX-License-Identifier: Apache-2.0
/// \file uncertain.h
/// A value that remembers where its uncertainty comes from.
#pragma once

#include <initializer_list>
#include <limits>
#include <string>
#include <utility>
#include <vector>

namespace swingloss {

/// Whether a source touches every bar of a series alike (rig, camera set-up) or one bar alone.
enum class SourceKind { Shared, Own };

/// One named source's part in a value: its standard uncertainty times the value's derivative
/// with respect to it, sign kept, in the unit of the value.
struct Contribution {
  std::string source;  ///< "rig.moment"; one name is one quantity of nature
  SourceKind kind = SourceKind::Own;
  double signed_u = 0.0;
  double degrees_of_freedom = std::numeric_limits<double>::infinity();  ///< of the source's u
};

/// A best estimate with named, signed, first-order contributions [JCGM100 5.1].
///
/// The unit is that of the *name* of the variable: `Uncertain energy_J`. Sources with one name
/// are one quantity, so correlation survives arithmetic: x - x is exactly 0 +/- 0, and a moment
/// that two energies share cancels in their ratio. Different names are independent; correlated
/// fit parameters must be entered through independent names (metrology/correlated.h).
///
/// Not for: strongly curved functions (use metrology/monte_carlo.h), or quantities whose
/// relative uncertainty nears 1.
class Uncertain {
 public:
  /// Zero, exactly.
  Uncertain() = default;
  /// A value without any doubt: a count, a definition.
  static Uncertain exact(double value);
  /// A value with one source. \param u standard uncertainty (k = 1), >= 0, finite
  /// \throws std::logic_error for negative or non-finite u
  static Uncertain from(double value,
                        double u,
                        std::string source,
                        SourceKind kind,
                        double degrees_of_freedom = std::numeric_limits<double>::infinity());
  /// f(x...) by its value and its partial derivatives at the estimates [JCGM100 eq. 10, 13].
  static Uncertain combine(
      double value,
      const std::vector<std::pair<double, const Uncertain*>>& derivative_and_input);

  [[nodiscard]] double value() const { return value_; }
  /// Combined standard uncertainty: root of the sum of squares over the sources.
  [[nodiscard]] double u() const;
  /// The same over the sources of one kind.
  [[nodiscard]] double u(SourceKind kind) const;
  /// Contributions in order of source name, each name once, none exactly zero.
  [[nodiscard]] const std::vector<Contribution>& parts() const { return parts_; }
  /// Welch-Satterthwaite degrees of freedom of u() [JCGM100 G.4.1]; infinity when u() is 0.
  /// The factors of one joint estimate (joint_estimate_of()) share one estimate of variance and
  /// count as one term of the sum [Willink2007].
  [[nodiscard]] double degrees_of_freedom() const;
  /// The same value with `suffix` appended to every source name of `kind`: makes the sources of
  /// one bar or one rig distinct from another's before they meet.
  [[nodiscard]] Uncertain with_sources_of(SourceKind kind, const std::string& suffix) const;

  Uncertain operator-() const;
  friend Uncertain operator+(const Uncertain& a, const Uncertain& b);
  friend Uncertain operator-(const Uncertain& a, const Uncertain& b);
  friend Uncertain operator*(const Uncertain& a, const Uncertain& b);
  friend Uncertain operator/(const Uncertain& a, const Uncertain& b);
  friend Uncertain operator*(double a, const Uncertain& b);
  friend Uncertain operator/(const Uncertain& a, double b);

 private:
  double value_ = 0.0;
  std::vector<Contribution> parts_;
};

/// The joint estimate that a source is a factor of: "fit[2]" and "fit[3]" are two independent
/// directions in which the fit "fit" may be wrong (metrology/correlated.h); "fit[2] B7", after
/// with_sources_of(), belongs to "fit B7". Any other source is its own estimate.
[[nodiscard]] std::string joint_estimate_of(const std::string& source);

/// First-order functions of uncertain values; radians for the angles.
[[nodiscard]] Uncertain sqrt(const Uncertain& x);
[[nodiscard]] Uncertain exp(const Uncertain& x);
[[nodiscard]] Uncertain log(const Uncertain& x);
[[nodiscard]] Uncertain sin(const Uncertain& angle_rad);
[[nodiscard]] Uncertain cos(const Uncertain& angle_rad);

}  // namespace swingloss
