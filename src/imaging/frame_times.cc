// SPDX-License-Identifier: Apache-2.0
#include "imaging/frame_times.h"

#include "core/expects.h"

#include <algorithm>
#include <cstdio>
#include <string>

namespace swingloss {
namespace {

/// An interval that long had room for another picture.
constexpr double kGapRatio = 1.5;
/// Below this fraction of the usual interval, unevenness is rounding of the time stamps.
constexpr double kEvenFraction = 0.1;

std::string milliseconds(double seconds) {
  char text[32];
  std::snprintf(text, sizeof text, "%.1f ms", seconds * 1e3);
  return text;
}

double middle_of(std::vector<double> values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>((values.size() - 1) / 2);
  std::nth_element(values.begin(), middle, values.end());
  return *middle;
}

}  // namespace

FrameTimes::FrameTimes(TimeSource source, double usual_interval_s)
    : source_(source), usual_interval_s_(usual_interval_s) {
  expects(usual_interval_s > 0.0, "FrameTimes: the usual interval must be positive");
}

double FrameTimes::next(std::optional<double> stamp_s) {
  const double t_s =
      source_ == TimeSource::TimeStamps ? from_stamp(stamp_s) : count_ * usual_interval_s_;
  if (count_ > 0) intervals_s_.push_back(t_s - last_s_);
  last_s_ = t_s;
  ++count_;
  return t_s;
}

double FrameTimes::from_stamp(std::optional<double> stamp_s) {
  if (count_ == 0) {
    if (!stamp_s) ++repaired_;
    first_stamp_s_ = stamp_s.value_or(0.0);
    return 0.0;
  }
  if (stamp_s && *stamp_s - first_stamp_s_ > last_s_) return *stamp_s - first_stamp_s_;
  ++repaired_;
  return last_s_ + (stamp_s ? 0.5 : 1.0) * usual_interval_s_;
}

Remarks FrameTimes::remarks() const {
  Remarks out;
  if (repaired_ > 0) {
    out.push_back(
        {"time-stamps-repaired",
         Severity::Warning,
         std::to_string(repaired_) + " of " + std::to_string(count_) +
             " pictures have a time stamp that is missing or does not grow; they were "
             "placed between their neighbours. Angles stand, speeds may suffer."});
  }
  if (intervals_s_.empty()) return out;
  const double usual_s = middle_of(intervals_s_);
  const auto [least, most] = std::minmax_element(intervals_s_.begin(), intervals_s_.end());
  const bool uneven = *most - *least > kEvenFraction * usual_s;
  const auto gaps = std::count_if(intervals_s_.begin(), intervals_s_.end(), [&](double s) {
    return s > kGapRatio * usual_s;
  });
  if (!uneven || source_ == TimeSource::NominalRate) return out;
  std::string text = "The pictures are not evenly spaced: " + milliseconds(usual_s) +
                     " as a rule, " + milliseconds(*least) + " to " + milliseconds(*most) + ".";
  if (gaps > 0) {
    text += " Pictures are missing in " + std::to_string(gaps) +
            (gaps == 1 ? " place." : " places.");
  }
  out.push_back({"uneven-time", Severity::Note, text + " Each picture's own time is used."});
  return out;
}

}  // namespace swingloss
