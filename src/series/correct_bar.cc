// SPDX-License-Identifier: Apache-2.0
#include "series/correct_bar.h"

#include "core/angle.h"
#include "core/joined.h"
#include "core/number_text.h"
#include "series/correct_swing.h"
#include "series/picture_angle.h"

#include <algorithm>

namespace swingloss {
namespace {

using Kind = CorrectionKind;

const char* const kNone = "not measured";

std::string angle_words(const std::optional<Uncertain>& angle_rad) {
  if (!angle_rad) return kNone;
  const ValueText text = format_with_u(Angle::from_rad(angle_rad->value()).deg(),
                                       Angle::from_rad(angle_rad->u()).deg());
  return text.value + "\u00B0 (u " + text.u + "\u00B0)";
}

std::string axle_words(const ArmTrack& arm) {
  if (arm.angles.samples.empty()) return kNone;
  return "x " + fixed_text(arm.view.axle_px.x(), 1) + ", y " +
         fixed_text(arm.view.axle_px.y(), 1) + " px";
}

std::string blow_words(const SwingRecord& record) {
  const auto& blow_s = record.measurement.events.blow_s;
  return blow_s ? "the one at " + fixed_text(*blow_s, 2) + " s" : kNone;
}

std::string letter_words(BreakType type) {
  const std::string letter = letter_of(type);
  return letter.empty() ? "not stated" : letter;
}

std::string section_words(const Specimen& specimen, double u_mm) {
  if (!specimen.thickness_mm || !specimen.width_mm) return "not given";
  return fixed_text(*specimen.thickness_mm, 2) + " \u00D7 " +
         fixed_text(*specimen.width_mm, 2) + " mm (u " + significant_text(u_mm, 2) + " mm)";
}

const Correction* section_of(const std::vector<Correction>& standing) {
  return find_correction(standing, Kind::Section);
}

Specimen with_section(Specimen specimen, const std::vector<Correction>& standing) {
  if (const Correction* section = section_of(standing)) {
    specimen.thickness_mm = section->thickness_mm;
    specimen.width_mm = section->width_mm;
  }
  return specimen;
}

ConcludeOptions with_section(ConcludeOptions options, const std::vector<Correction>& standing) {
  if (const Correction* section = section_of(standing)) options.section_u_mm = *section->u_mm;
  return options;
}

/// What needs no clip: letter and leaving out.
void change_bar(BarResult& result, const std::vector<Correction>& standing) {
  if (const Correction* type = find_correction(standing, Kind::BreakType))
    result.bar.break_type = *type->break_type;
  if (const Correction* out = find_correction(standing, Kind::LeaveOut)) {
    result.bar.left_out = true;
    result.bar.left_out_reason = out->why;
  }
}

void remark_on(BarResult& result) {
  for (const AppliedCorrection& applied : result.corrections) {
    const std::string what = words_of(applied.correction.kind);
    if (!applied.not_used.empty()) {
      result.remarks.push_back(
          {"correction-not-used",
           Severity::Warning,
           "The correction by hand (" + what + ") could not be used. " + applied.not_used});
    } else if (applied.correction.kind != Kind::LeaveOut) {
      result.remarks.push_back({"corrected-by-hand",
                                Severity::Note,
                                "By hand, " + what + ": " + applied.by_hand + " in place of " +
                                    applied.automatic + ". " + applied.correction.why});
    }
  }
}

/// Notes each correction with what stood there before and what stands there now.
void account_for(BarResult& result,
                 const BarResult& automatic,
                 const std::vector<Correction>& standing,
                 const ConcludeOptions& options) {
  const double u_mm = with_section(options, standing).section_u_mm;
  for (const Correction& correction : standing) {
    AppliedCorrection applied;
    applied.correction = correction;
    applied.automatic = value_words(correction.kind, automatic, options.section_u_mm);
    applied.by_hand = value_words(correction.kind, result, u_mm);
    applied.automatic_energy_J = automatic.bar.energy_J;
    result.corrections.push_back(std::move(applied));
  }
}

bool needs_clip(Kind kind) {
  return kind != Kind::Section && kind != Kind::BreakType && kind != Kind::LeaveOut;
}

}  // namespace

std::string value_words(CorrectionKind kind, const BarResult& bar, double section_u_mm) {
  static const SwingRecord nothing;
  const SwingRecord& swing = bar.swing ? *bar.swing : nothing;
  switch (kind) {
    case Kind::Axle:
      return axle_words(swing.arm);
    case Kind::Rest:
      return angle_words(swing.measurement.zero_rad);
    case Kind::Release:
      return angle_words(swing.measurement.release_angle_rad);
    case Kind::Rise:
      return angle_words(swing.measurement.rise_angle_rad);
    case Kind::Blow:
      return blow_words(swing);
    case Kind::Outcome:
      return name_of(swing.measurement.outcome);
    case Kind::BreakType:
      return letter_words(bar.bar.break_type);
    case Kind::Section:
      return section_words(bar.specimen, section_u_mm);
    case Kind::LeaveOut:
      return bar.bar.left_out ? "left out" : "counted";
    case Kind::GroupBy:
      break;
  }
  return {};
}

std::string grouping_words(const RankingOptions& ranking) {
  std::vector<std::string> names = {"material"};
  if (ranking.by_condition) names.emplace_back("condition");
  if (ranking.by_orientation) names.emplace_back("orientation");
  return joined(names, ", ");
}

BarResult conclude_filmed_by_hand(const Specimen& specimen,
                                  SwingRecord automatic,
                                  const ConcludeOptions& options,
                                  const std::vector<Correction>& standing,
                                  const Pendulum* pendulum) {
  if (standing.empty()) return conclude_filmed(specimen, std::move(automatic), options);
  const BarResult before = conclude_filmed(specimen, automatic, options);
  CorrectedSwing corrected = correct_swing(std::move(automatic), standing, pendulum);
  BarResult result = conclude_filmed(with_section(specimen, standing),
                                     std::move(corrected.record),
                                     with_section(options, standing));
  change_bar(result, standing);
  account_for(result, before, standing, options);
  for (AppliedCorrection& applied : result.corrections) {
    const auto why = corrected.not_used.find(applied.correction.number);
    if (why != corrected.not_used.end()) applied.not_used = why->second;
  }
  remark_on(result);
  return result;
}

BarResult conclude_typed_by_hand(const Specimen& specimen,
                                 const ConcludeOptions& options,
                                 const std::vector<Correction>& standing) {
  const BarResult before = conclude_typed(specimen, options);
  BarResult result =
      conclude_typed(with_section(specimen, standing), with_section(options, standing));
  change_bar(result, standing);
  account_for(result, before, standing, options);
  for (AppliedCorrection& applied : result.corrections) {
    if (needs_clip(applied.correction.kind))
      applied.not_used = "This bar has no clip, only a typed energy.";
  }
  remark_on(result);
  return result;
}

std::vector<AppliedCorrection> regroup(const std::vector<Correction>& corrections,
                                       SeriesPlan& plan) {
  const std::vector<Correction> of_series = standing(corrections, "");
  const Correction* grouping = find_correction(of_series, Kind::GroupBy);
  if (grouping == nullptr) return {};
  AppliedCorrection applied;
  applied.correction = *grouping;
  applied.automatic = grouping_words(plan.ranking);
  const auto has = [&](const char* name) {
    const auto& names = grouping->group_by;
    return std::find(names.begin(), names.end(), name) != names.end();
  };
  plan.ranking.by_condition = has("condition");
  plan.ranking.by_orientation = has("orientation");
  applied.by_hand = grouping_words(plan.ranking);
  return {applied};
}

std::vector<AppliedCorrection> without_bar(const std::vector<Correction>& corrections,
                                           const std::vector<BarResult>& bars) {
  std::vector<AppliedCorrection> left_over;
  for (const Correction& correction : corrections) {
    const bool known = std::any_of(bars.begin(), bars.end(), [&](const BarResult& bar) {
      return bar.specimen.id == correction.bar;
    });
    if (known || correction.bar.empty() || !correction.undone.empty()) continue;
    AppliedCorrection applied;
    applied.correction = correction;
    applied.automatic = correction.automatic;
    applied.not_used = "specimens.csv has no bar " + correction.bar + " any more.";
    left_over.push_back(std::move(applied));
  }
  return left_over;
}

}  // namespace swingloss
