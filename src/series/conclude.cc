// SPDX-License-Identifier: Apache-2.0
#include "series/conclude.h"

#include "core/number_text.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

BarResult named(const Specimen& specimen) {
  BarResult result;
  result.specimen = specimen;
  result.bar.id = specimen.id;
  result.bar.material = specimen.material.empty() ? "(no material)" : specimen.material;
  result.bar.condition = specimen.condition;
  result.bar.orientation = specimen.orientation;
  result.bar.rig = specimen.rig;
  result.bar.break_type = specimen.break_type;
  return result;
}

std::string own_suffix(const Specimen& specimen) { return ":" + specimen.id; }

/// Area of the section under the notch, from sizes in mm; absent when either was not given.
std::optional<Uncertain> section_mm2(const Specimen& specimen, double section_u_mm) {
  if (!specimen.thickness_mm || !specimen.width_mm) return {};
  const auto size = [&](double x_mm, const char* source) {
    return Uncertain::from(x_mm, section_u_mm, source + own_suffix(specimen), SourceKind::Own);
  };
  return size(*specimen.thickness_mm, "section.thickness") *
         size(*specimen.width_mm, "section.width");
}

void add_strength(BarResult& result, double section_u_mm) {
  const auto area_mm2 = section_mm2(result.specimen, section_u_mm);
  if (area_mm2) {
    constexpr double kJ_m2_per_J_mm2 = 1000.0;
    result.bar.strength_kJ_m2 = kJ_m2_per_J_mm2 * (*result.bar.energy_J / *area_mm2);
    return;
  }
  result.remarks.push_back(
      {"no-section",
       Severity::Note,
       "Thickness or width is not given: energy only, no impact strength."});
}

std::string words(const Uncertain& energy_J) {
  const ValueText text = format_with_u(energy_J.value(), energy_J.u());
  return text.value + " J (u " + text.u + " J)";
}

Uncertain typed_energy_J(const Specimen& specimen) {
  if (!specimen.energy_u_J) return Uncertain::exact(*specimen.energy_J);
  return Uncertain::from(*specimen.energy_J,
                         *specimen.energy_u_J,
                         "typed.energy" + own_suffix(specimen),
                         SourceKind::Own);
}

std::optional<BarProblem> problem_of_clip(const SwingRecord& record) {
  const SwingMeasurement& measurement = record.measurement;
  if (measurement.outcome == Outcome::FreeSwing) {
    return BarProblem{"no-blow",
                      record.clip +
                          ": found a free swing without a blow; wanted the blow on this "
                          "bar. Name the bar's own clip, or list this one under "
                          "free_swings in series.json."};
  }
  if (measurement.absorbed_J) return {};
  const Remarks remarks = all_remarks(record);
  const auto refusal = std::find_if(remarks.begin(), remarks.end(), [](const Remark& remark) {
    return remark.severity == Severity::Refusal;
  });
  return BarProblem{refusal == remarks.end() ? "no-energy" : refusal->code,
                    record.clip + ": " + cause_of_absence(record)};
}

void settle_break_type(BarResult& result, Outcome outcome) {
  BreakType& type = result.bar.break_type;
  const bool film_whole = outcome == Outcome::NotBroken;
  if (type == BreakType::Unknown) {
    if (film_whole) type = BreakType::NonBreak;
    return;
  }
  // A hinge or partial break may stop the hammer: only a clean break contradicts that.
  const bool conflict = film_whole ? type == BreakType::Complete : type == BreakType::NonBreak;
  if (!conflict) return;
  result.remarks.push_back(
      {"break-type-conflict",
       Severity::Warning,
       std::string("The clip shows a bar that is ") + name_of(outcome) +
           ", the break_type typed in row " + std::to_string(result.specimen.row) +
           " says otherwise. The typed letter is used: check which is right."});
}

void compare_typed_energy(BarResult& result) {
  if (!result.specimen.energy_J) return;
  result.remarks.push_back(
      {"typed-energy-beside-clip",
       Severity::Note,
       "The clip gives " + words(*result.bar.energy_J) + "; energy_J typed beside it is " +
           number_text(*result.specimen.energy_J) + " J and was not used."});
}

}  // namespace

BarResult conclude_problem(const Specimen& specimen, BarProblem problem) {
  BarResult result = named(specimen);
  result.problem = std::move(problem);
  return result;
}

BarResult conclude_typed(const Specimen& specimen, const ConcludeOptions& options) {
  BarResult result = named(specimen);
  result.bar.energy_J = typed_energy_J(specimen);
  result.bar.limit = specimen.limit;
  if (!specimen.energy_u_J) {
    result.remarks.push_back({"no-energy-u",
                              Severity::Note,
                              "energy_J was typed without energy_u_J: the instrument's own "
                              "doubt is not in this bar's uncertainty."});
  }
  add_strength(result, options.section_u_mm);
  return result;
}

BarResult conclude_filmed(const Specimen& specimen,
                          SwingRecord record,
                          const ConcludeOptions& options) {
  BarResult result = named(specimen);
  result.bar.rig = options.rig_name;
  result.problem = problem_of_clip(record);
  result.swing = std::move(record);
  if (result.problem) return result;
  const SwingMeasurement& measurement = result.swing->measurement;
  result.bar.energy_J =
      measurement.absorbed_J->with_sources_of(SourceKind::Own, own_suffix(specimen))
          .with_sources_of(SourceKind::Shared, options.rig_suffix);
  result.bar.limit = measurement.censoring == Censoring::Right ? Limit::Above : Limit::None;
  settle_break_type(result, measurement.outcome);
  compare_typed_energy(result);
  add_strength(result, options.section_u_mm);
  return result;
}

}  // namespace swingloss
