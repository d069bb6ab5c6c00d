// SPDX-License-Identifier: Apache-2.0
#include "series/corrections.h"

#include "core/angle.h"
#include "core/input_error.h"
#include "core/text_file.h"
#include "series/durable_file.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace swingloss {
namespace {

constexpr std::size_t kLongestWhy = 2000;

/// Refuses one correction; what is there instead is told by its number.
class Checker {
 public:
  Checker(const Correction& correction, const std::string& file)
      : correction_(correction), file_(file) {}

  [[noreturn]] void refuse(const std::string& found,
                           const std::string& wanted,
                           const std::string& next) const {
    const std::string number =
        correction_.number > 0 ? "correction " + std::to_string(correction_.number) : "";
    throw InputError({file_, number, found, wanted, next});
  }
  void need(bool there, const std::string& wanted) const {
    if (there) return;
    refuse(std::string("a correction of kind ") + name_of(correction_.kind) +
               " without, or with an unusable one",
           wanted,
           "Give it, or take the correction back.");
  }
  void need_u(const std::optional<double>& u, double most, const std::string& wanted) const {
    need(u && std::isfinite(*u) && *u > 0.0 && *u <= most, wanted);
  }
  void need_point() const {
    need(correction_.point_px && correction_.point_px->allFinite(),
         "a point of the picture, point_px");
  }

 private:
  const Correction& correction_;
  const std::string& file_;
};

bool within(const std::optional<double>& x, double low, double high) {
  return x && std::isfinite(*x) && *x >= low && *x <= high;
}

void check_angle(const Correction& c, const Checker& check) {
  check.need_u(c.u_rad,
               Angle::from_deg(20.0).rad(),
               "its standard uncertainty u_deg, above zero and at most 20 degrees");
  if (c.point_px) {
    check.need_point();
    check.need(within(c.t_s, 0.0, 1e6), "the time t_s of the picture that was marked");
    return;
  }
  const double most_rad = c.kind == CorrectionKind::Rest ? kPi : Angle::from_deg(179.9).rad();
  const double least_rad = c.kind == CorrectionKind::Rest ? -kPi : Angle::from_deg(0.1).rad();
  check.need(within(c.angle_rad, least_rad, most_rad),
             c.kind == CorrectionKind::Rest
                 ? "a marked point, or angle_deg from -180 to 180 degrees"
                 : "a marked point, or angle_deg from 0.1 to 179.9 degrees");
}

void check_section(const Correction& c, const Checker& check) {
  const bool sized = within(c.thickness_mm, 0.2, 200.0) && within(c.width_mm, 0.2, 200.0);
  check.need(sized, "thickness_mm and width_mm, each from 0.2 to 200 mm");
  check.need_u(c.u_mm,
               0.5 * std::min(*c.thickness_mm, *c.width_mm),
               "their standard uncertainty u_mm, above zero and below half the size");
}

void check_groups(const Correction& c, const Checker& check) {
  const std::vector<std::string> known = {"material", "condition", "orientation"};
  for (const std::string& name : c.group_by) {
    check.need(std::find(known.begin(), known.end(), name) != known.end(),
               "group_by out of material, condition, orientation");
  }
  check.need(std::find(c.group_by.begin(), c.group_by.end(), "material") != c.group_by.end(),
             "group_by with material in it");
}

void check_value(const Correction& c, const Checker& check) {
  switch (c.kind) {
    case CorrectionKind::Axle:
      check.need_point();
      check.need_u(c.u_px, 200.0, "its standard uncertainty u_px, above zero and at most 200");
      break;
    case CorrectionKind::Rest:
    case CorrectionKind::Release:
    case CorrectionKind::Rise:
      check_angle(c, check);
      break;
    case CorrectionKind::Blow:
      check.need(within(c.t_s, 0.0, 1e6), "the time t_s of the blow");
      break;
    case CorrectionKind::Outcome:
      check.need(c.outcome == Outcome::Broken || c.outcome == Outcome::NotBroken,
                 "outcome \"broken\" or \"not-broken\"");
      break;
    case CorrectionKind::BreakType:
      check.need(c.break_type && *c.break_type != BreakType::Unknown,
                 "break_type C, H, P or N");
      break;
    case CorrectionKind::Section:
      check_section(c, check);
      break;
    case CorrectionKind::GroupBy:
      check_groups(c, check);
      break;
    case CorrectionKind::LeaveOut:
      break;
  }
}

}  // namespace

const char* name_of(CorrectionKind kind) {
  switch (kind) {
    case CorrectionKind::Axle:
      return "axle";
    case CorrectionKind::Rest:
      return "rest";
    case CorrectionKind::Release:
      return "release";
    case CorrectionKind::Rise:
      return "rise";
    case CorrectionKind::Blow:
      return "blow";
    case CorrectionKind::Outcome:
      return "outcome";
    case CorrectionKind::BreakType:
      return "break-type";
    case CorrectionKind::Section:
      return "section";
    case CorrectionKind::LeaveOut:
      return "leave-out";
    case CorrectionKind::GroupBy:
      return "group-by";
  }
  return "";
}

std::string words_of(CorrectionKind kind) {
  switch (kind) {
    case CorrectionKind::Axle:
      return "axle in the picture";
    case CorrectionKind::Rest:
      return "hanging rest";
    case CorrectionKind::Release:
      return "release angle";
    case CorrectionKind::Rise:
      return "turning point";
    case CorrectionKind::Blow:
      return "which blow";
    case CorrectionKind::Outcome:
      return "outcome";
    case CorrectionKind::BreakType:
      return "break type";
    case CorrectionKind::Section:
      return "section";
    case CorrectionKind::LeaveOut:
      return "left out";
    case CorrectionKind::GroupBy:
      return "grouping";
  }
  return "";
}

std::string corrections_path(const std::string& folder) {
  return (std::filesystem::path(folder) / "results" / "corrections.json").string();
}

std::vector<Correction> read_corrections(const std::string& folder) {
  const std::string path = corrections_path(folder);
  if (!is_there(path)) return {};
  return parse_corrections(read_file(path), path);
}

void write_corrections(const std::string& folder, const std::vector<Correction>& corrections) {
  write_file_durably(corrections_path(folder), corrections_json(corrections));
}

std::vector<Correction> standing(const std::vector<Correction>& corrections,
                                 const std::string& bar) {
  std::vector<Correction> found;
  for (const Correction& correction : corrections) {
    if (correction.bar != bar || !correction.undone.empty()) continue;
    const auto same = std::find_if(found.begin(), found.end(), [&](const Correction& earlier) {
      return earlier.kind == correction.kind;
    });
    if (same == found.end()) {
      found.push_back(correction);
    } else {
      *same = correction;
    }
  }
  return found;
}

const Correction* find_correction(const std::vector<Correction>& standing,
                                  CorrectionKind kind) {
  const auto found =
      std::find_if(standing.begin(), standing.end(), [&](const Correction& correction) {
        return correction.kind == kind;
      });
  return found == standing.end() ? nullptr : &*found;
}

void check_correction(const Correction& correction, const std::string& file) {
  const Checker check(correction, file);
  const bool of_series = correction.kind == CorrectionKind::GroupBy;
  if (correction.why.find_first_not_of(" \t\r\n") == std::string::npos) {
    check.refuse("a correction without a reason",
                 "why it is made, in a sentence",
                 "Write what you saw: it stands in the report beside the value.");
  }
  check.need(correction.why.size() <= kLongestWhy, "a reason of at most 2000 bytes");
  check.need(of_series == correction.bar.empty(), "the id of its bar");
  check_value(correction, check);
}

}  // namespace swingloss
