// SPDX-License-Identifier: Apache-2.0
#include "core/uncertain.h"

#include "core/expects.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace swingloss {
namespace {

/// What one source adds up to over all inputs of an operation.
struct Gathered {
  SourceKind kind = SourceKind::Own;
  double sum = 0.0;
  double sum_of_magnitudes = 0.0;
  double degrees_of_freedom = std::numeric_limits<double>::infinity();
};

/// Adds contributions by name, then forgets those that cancelled.
class Ledger {
 public:
  void add(double derivative, const Contribution& part) {
    const auto [place, is_new] = by_name_.try_emplace(part.source);
    Gathered& entry = place->second;
    expects(is_new || entry.kind == part.kind,
            "one source of uncertainty entered as both shared and own");
    entry.kind = part.kind;
    entry.sum += derivative * part.signed_u;
    entry.sum_of_magnitudes += std::abs(derivative * part.signed_u);
    entry.degrees_of_freedom = std::min(entry.degrees_of_freedom, part.degrees_of_freedom);
  }

  [[nodiscard]] std::vector<Contribution> parts() const {
    std::vector<Contribution> kept;
    for (const auto& [source, entry] : by_name_) {
      if (std::abs(entry.sum) <= kCancelled * entry.sum_of_magnitudes) continue;
      expects(std::isfinite(entry.sum), "a contribution to uncertainty is not finite");
      kept.push_back({source, entry.kind, entry.sum, entry.degrees_of_freedom});
    }
    return kept;
  }

 private:
  // A ratio of products reaches its two opposite terms through a few roundings each; what is
  // left below this is rounding, not doubt.
  static constexpr double kCancelled = 64.0 * std::numeric_limits<double>::epsilon();
  std::map<std::string, Gathered> by_name_;
};

/// f(x) from f and f' at the estimate.
Uncertain first_order(double value, double derivative, const Uncertain& x) {
  return Uncertain::combine(value, {{derivative, &x}});
}

}  // namespace

Uncertain Uncertain::exact(double value) {
  expects(std::isfinite(value), "an exact value is not finite");
  Uncertain result;
  result.value_ = value;
  return result;
}

Uncertain Uncertain::from(
    double value, double u, std::string source, SourceKind kind, double degrees_of_freedom) {
  expects(std::isfinite(u) && u >= 0.0, "a standard uncertainty is negative or not finite");
  expects(degrees_of_freedom > 0.0, "degrees of freedom are not positive");
  expects(!source.empty(), "a source of uncertainty has no name");
  Uncertain result = exact(value);
  if (u > 0.0) result.parts_.push_back({std::move(source), kind, u, degrees_of_freedom});
  return result;
}

Uncertain Uncertain::combine(
    double value,
    const std::vector<std::pair<double, const Uncertain*>>& derivative_and_input) {
  Ledger ledger;
  for (const auto& [derivative, input] : derivative_and_input) {
    for (const Contribution& part : input->parts_) ledger.add(derivative, part);
  }
  Uncertain result = exact(value);
  result.parts_ = ledger.parts();
  return result;
}

double Uncertain::u() const {
  double u = 0.0;
  for (const Contribution& part : parts_) u = std::hypot(u, part.signed_u);
  return u;
}

double Uncertain::u(SourceKind kind) const {
  double u = 0.0;
  for (const Contribution& part : parts_) {
    if (part.kind == kind) u = std::hypot(u, part.signed_u);
  }
  return u;
}

double Uncertain::degrees_of_freedom() const {
  const double total = u();
  std::map<std::string, std::pair<double, double>> share_and_dof;
  for (const Contribution& part : parts_) {
    const auto [place, is_new] =
        share_and_dof.try_emplace(joint_estimate_of(part.source), 0.0, part.degrees_of_freedom);
    place->second.first += std::pow(part.signed_u / total, 2);
    place->second.second = std::min(place->second.second, part.degrees_of_freedom);
  }
  double sum = 0.0;
  for (const auto& [name, entry] : share_and_dof) {
    sum += entry.first * entry.first / entry.second;
  }
  return sum > 0.0 ? 1.0 / sum : std::numeric_limits<double>::infinity();
}

Uncertain Uncertain::with_sources_of(SourceKind kind, const std::string& suffix) const {
  Ledger ledger;
  for (Contribution part : parts_) {
    if (part.kind == kind) part.source += suffix;
    ledger.add(1.0, part);
  }
  Uncertain result = exact(value_);
  result.parts_ = ledger.parts();
  return result;
}

Uncertain Uncertain::operator-() const { return first_order(-value_, -1.0, *this); }

Uncertain operator+(const Uncertain& a, const Uncertain& b) {
  return Uncertain::combine(a.value_ + b.value_, {{1.0, &a}, {1.0, &b}});
}

Uncertain operator-(const Uncertain& a, const Uncertain& b) {
  return Uncertain::combine(a.value_ - b.value_, {{1.0, &a}, {-1.0, &b}});
}

Uncertain operator*(const Uncertain& a, const Uncertain& b) {
  return Uncertain::combine(a.value_ * b.value_, {{b.value_, &a}, {a.value_, &b}});
}

Uncertain operator/(const Uncertain& a, const Uncertain& b) {
  expects(b.value_ != 0.0, "division by an uncertain value whose estimate is 0");
  const double ratio = a.value_ / b.value_;
  return Uncertain::combine(ratio, {{1.0 / b.value_, &a}, {-ratio / b.value_, &b}});
}

Uncertain operator*(double a, const Uncertain& b) { return first_order(a * b.value_, a, b); }

Uncertain operator/(const Uncertain& a, double b) {
  expects(b != 0.0, "division of an uncertain value by 0");
  return first_order(a.value_ / b, 1.0 / b, a);
}

std::string joint_estimate_of(const std::string& source) {
  const std::size_t open = source.find('[');
  const std::size_t close = source.find(']', open);
  if (open == std::string::npos || close == std::string::npos || close == open + 1)
    return source;
  const std::string number = source.substr(open + 1, close - open - 1);
  if (number.find_first_not_of("0123456789") != std::string::npos) return source;
  return source.substr(0, open) + source.substr(close + 1);
}

Uncertain sqrt(const Uncertain& x) {
  expects(x.value() > 0.0 || (x.value() == 0.0 && x.parts().empty()),
          "square root of an uncertain value that is not positive");
  if (x.value() == 0.0) return Uncertain();
  const double root = std::sqrt(x.value());
  return first_order(root, 0.5 / root, x);
}

Uncertain exp(const Uncertain& x) {
  const double value = std::exp(x.value());
  return first_order(value, value, x);
}

Uncertain log(const Uncertain& x) {
  expects(x.value() > 0.0, "logarithm of an uncertain value that is not positive");
  return first_order(std::log(x.value()), 1.0 / x.value(), x);
}

Uncertain sin(const Uncertain& angle_rad) {
  return first_order(std::sin(angle_rad.value()), std::cos(angle_rad.value()), angle_rad);
}

Uncertain cos(const Uncertain& angle_rad) {
  return first_order(std::cos(angle_rad.value()), -std::sin(angle_rad.value()), angle_rad);
}

}  // namespace swingloss
