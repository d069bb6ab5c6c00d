// SPDX-License-Identifier: Apache-2.0
#include "series/swing_record.h"

#include <algorithm>

namespace swingloss {
Remarks all_remarks(const SwingRecord& record) {
  Remarks remarks = record.arm.remarks;
  append(remarks, record.measurement.remarks);
  return remarks;
}

std::string cause_of_absence(const SwingRecord& record) {
  std::string refusals;
  std::string warning;
  for (const Remark& remark : all_remarks(record)) {
    if (remark.severity == Severity::Refusal) {
      refusals += (refusals.empty() ? "" : " ") + remark.text;
    } else if (remark.severity == Severity::Warning && warning.empty()) {
      warning = remark.text;
    }
  }
  if (!refusals.empty()) return refusals;
  return warning.empty() ? "The clip does not show it." : warning;
}

std::string cause_of_absence(const SwingRecord& record, const std::vector<std::string>& codes) {
  for (const Remark& remark : all_remarks(record)) {
    const bool is_meant = std::any_of(codes.begin(), codes.end(), [&](const std::string& code) {
      return remark.code.compare(0, code.size(), code) == 0;
    });
    if (is_meant && remark.severity == Severity::Refusal) return remark.text;
  }
  return cause_of_absence(record);
}

std::optional<double> fitted_angle_rad(const SwingRecord& record, double t_s) {
  const SwingCurve& curve = record.measurement.curve;
  const auto after = std::lower_bound(curve.t_s.begin(), curve.t_s.end(), t_s);
  if (after == curve.t_s.end()) return {};
  const auto k = static_cast<std::size_t>(after - curve.t_s.begin());
  if (curve.t_s[k] == t_s) return curve.theta_rad[k];
  if (k == 0) return {};
  const double part = (t_s - curve.t_s[k - 1]) / (curve.t_s[k] - curve.t_s[k - 1]);
  return curve.theta_rad[k - 1] + part * (curve.theta_rad[k] - curve.theta_rad[k - 1]);
}

double direction_of(const SwingRecord& record) {
  return record.measurement.direction < 0.0 ? -1.0 : 1.0;
}

double doubt_shift_rad(const SwingRecord& record, std::size_t sample) {
  const auto& doubts = record.arm.angles.doubts;
  const auto& scores = record.measurement.doubt_scores;
  double shift_rad = 0.0;
  for (std::size_t k = 0; k < std::min(doubts.size(), scores.size()); ++k) {
    shift_rad += scores[k].value() * doubts[k].shape_rad[static_cast<Eigen::Index>(sample)];
  }
  return shift_rad;
}

double angle_from_rest_rad(const SwingRecord& record, std::size_t sample) {
  const double zero_rad =
      record.measurement.zero_rad ? record.measurement.zero_rad->value() : 0.0;
  const double theta_rad = record.arm.angles.samples.at(sample).theta_rad;
  return direction_of(record) * (theta_rad - zero_rad - doubt_shift_rad(record, sample));
}

}  // namespace swingloss
