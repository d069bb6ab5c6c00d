// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/text_file.h"
#include "metrology/correlated.h"
#include "rig/rig.h"

#include <cmath>

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using nlohmann::ordered_json;

constexpr double kDegPerRad = 180.0 / kPi;

/// Fifteen digits: what a conversion of units adds behind them is not the owner's.
double tidy(double value) {
  if (value == 0.0) return 0.0;
  const double unit = std::pow(10.0, 14.0 - std::floor(std::log10(std::abs(value))));
  return std::round(value * unit) / unit;
}

ordered_json pair_of(double value, double u) {
  return {{"value", tidy(value)}, {"u", tidy(u)}};
}

void put(ordered_json& file,
         const char* name,
         const std::optional<Uncertain>& quantity,
         double unit = 1.0) {
  if (quantity) file[name] = pair_of(unit * quantity->value(), unit * quantity->u());
}

void put_text(ordered_json& file, const char* name, const std::string& text) {
  if (!text.empty()) file[name] = text;
}

ordered_json friction_json(const FrictionModel& friction) {
  const std::vector<Uncertain> terms = {
      friction.dry_Nm, friction.linear_Nms, friction.quadratic_Nms2};
  const Eigen::MatrixXd covariance = covariance_of(terms);
  ordered_json entry;
  const char* names[] = {"dry_Nm", "linear_Nms", "quadratic_Nms2"};
  for (std::size_t k = 0; k < terms.size(); ++k) {
    entry[names[k]] = pair_of(terms[k].value(), terms[k].u());
  }
  const auto correlation = [&](Eigen::Index a, Eigen::Index b) {
    const double scale = std::sqrt(covariance(a, a) * covariance(b, b));
    // Twelve decimals: what is left of the way through covariances and back is behind them.
    return scale > 0.0 ? std::round(1e12 * covariance(a, b) / scale) / 1e12 : 0.0;
  };
  if (covariance.cwiseAbs().sum() > covariance.diagonal().sum()) {
    entry["correlation"] = {{"dry_linear", correlation(0, 1)},
                            {"dry_quadratic", correlation(0, 2)},
                            {"linear_quadratic", correlation(1, 2)}};
  }
  return entry;
}

}  // namespace

std::string rig_text(const Rig& rig) {
  ordered_json file;
  file["format"] = "swingloss/rig/1";
  put_text(file, "name", rig.name);
  put_text(file, "note", rig.note);
  put_text(file, "made_like", rig.made_like);
  put(file, "mass_kg", rig.mass_kg);
  put(file, "com_m", rig.com_m);
  put(file, "scale_reading_kg", rig.scale_reading_kg);
  put(file, "scale_radius_m", rig.scale_radius_m);
  const bool typed_moment =
      (rig.mass_kg && rig.com_m) || (rig.scale_reading_kg && rig.scale_radius_m);
  put(file, "moment_Nm", typed_moment ? rig.moment_Nm : rig.pendulum.moment_Nm);
  put(file, "period_small_s", rig.period_small_s);
  put(file, "period_amplitude_deg", rig.period_amplitude_rad, kDegPerRad);
  put(file,
      "reduced_length_m",
      rig.period_small_s ? rig.reduced_length_m : rig.pendulum.reduced_length_m);
  put(file,
      "gravity_m_per_s2",
      rig.latitude_deg ? rig.gravity_m_per_s2 : rig.pendulum.gravity_m_per_s2);
  if (rig.latitude_deg) file["latitude_deg"] = *rig.latitude_deg;
  if (rig.height_m) file["height_m"] = *rig.height_m;
  put(file, "strike_radius_m", rig.pendulum.strike_radius_m);
  put(file, "release_angle_deg", rig.pendulum.release_angle_rad, kDegPerRad);
  if (rig.capacity_J) file["capacity_J"] = *rig.capacity_J;
  put_text(file, "zero", rig.zero);
  if (rig.pendulum.friction) file["friction"] = friction_json(*rig.pendulum.friction);
  return file.dump(2) + "\n";
}

void write_rig(const Rig& rig, const std::string& path) { write_file(path, rig_text(rig)); }

}  // namespace swingloss
