// SPDX-License-Identifier: Apache-2.0
#include "series/look_at_faces.h"

#include "core/input_error.h"
#include "core/number_text.h"
#include "series/appearance_model.h"
#include "series/bar_problem.h"
#include "series/fingerprint.h"
#include "series/measure_photo.h"
#include "series/parallel.h"
#include "series/read_specimens.h"
#include "series/stored_record.h"
#include "series/version.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

constexpr double kLeastDifference_mm = 0.1;

std::string inputs_of(const SeriesPlan& plan, const Specimen& specimen) {
  std::string mark = std::string("swingloss ") + kVersion + " faces " +
                     std::to_string(kFaceMethodRevision) + "; ruler " +
                     (plan.ruler_mm ? number_text(*plan.ruler_mm) : std::string("none"));
  for (const std::string& photo : specimen.photos) {
    std::string content = "unreadable";
    try {
      content = content_mark(path_in_series(plan.folder, photo, "photos"));
    } catch (const InputError&) {
      content = "unreadable";
    }
    mark += "; photo " + content;
  }
  return mark;
}

/// Measures one photograph into the record; one that cannot be used is refused there.
void add_photo(const SeriesPlan& plan,
               const std::string& photo,
               const SurfaceOptions& options,
               SurfaceRecord& record) {
  try {
    const auto measured = measure_photo(
        path_in_series(plan.folder, photo, "photos"), photo, standard_model(), options);
    if (measured.ok()) {
      record.photos.push_back(measured.value());
      return;
    }
    record.refused.push_back({measured.failure().code,
                              Severity::Refusal,
                              photo + ": " + sentences_of(measured.failure())});
  } catch (const InputError& error) {
    InputFault fault = error.fault();
    fault.file = photo;  // as typed: where the series lies is no part of its results
    record.refused.push_back(
        {"unusable-photo", Severity::Refusal, InputError::sentence(fault)});
  }
}

SurfaceRecord measure(const SeriesPlan& plan, const Specimen& specimen) {
  SurfaceOptions options;
  if (plan.ruler_mm) options.ruler_m = 1e-3 * *plan.ruler_mm;
  SurfaceRecord record;
  for (const std::string& photo : specimen.photos) add_photo(plan, photo, options, record);
  return record;
}

SurfaceRecord stored_or_measured(const SeriesPlan& plan, const Specimen& specimen, bool fresh) {
  const std::string path =
      (fs::path(plan.folder) / "results" / "surfaces" / (specimen.id + ".json")).string();
  const std::string inputs = inputs_of(plan, specimen);
  if (!fresh) {
    auto stored = stored_record(path, inputs, parse_surface_json);
    if (stored) return *std::move(stored);
  }
  return keep_record(path, surface_json(measure(plan, specimen), inputs), parse_surface_json);
}

/// A typed size beside the photograph's; nothing where they agree.
std::optional<std::string> difference_words(const std::string& name,
                                            const std::optional<double>& typed_mm,
                                            double u_typed_mm,
                                            const Uncertain& seen_m) {
  if (!typed_mm) return {};
  const double off_mm = 1e3 * seen_m.value() - *typed_mm;
  const double u_mm = std::hypot(u_typed_mm, 1e3 * seen_m.u());
  if (std::abs(off_mm) < std::max(kLeastDifference_mm, 3.0 * u_mm)) return {};
  const ValueText seen = format_with_u(1e3 * seen_m.value(), 1e3 * seen_m.u());
  return name + " " + number_text(*typed_mm) + " mm as typed, " + seen.value + " +/- " +
         seen.u + " mm on the photograph";
}

void compare_with_caliper(double u_typed_mm, BarResult& bar) {
  std::string differences;
  const auto add = [&](const std::optional<std::string>& words) {
    if (words) differences += (differences.empty() ? "" : "; ") + *words;
  };
  for (const SurfaceMeasurement& photo : bar.surface->photos) {
    for (const FaceMeasures& face : photo.faces) {
      if (!face.section || !face.notch_found || !differences.empty()) continue;
      add(difference_words(
          "h", bar.specimen.thickness_mm, u_typed_mm, face.section->thickness_m));
      add(difference_words("b_N", bar.specimen.width_mm, u_typed_mm, face.section->width_m));
    }
  }
  if (differences.empty()) return;
  bar.remarks.push_back({"section-disagrees",
                         Severity::Warning,
                         differences + ". The typed size is used; measure the bar again."});
}

std::optional<FractureLook> look_of_bar(const BarResult& bar) {
  if (!bar.surface || bar.problem || !bar.bar.energy_J) return {};
  const FaceMeasures* face = speaking_face(*bar.surface);
  return face == nullptr ? std::nullopt : face->judgement.verdict;
}

bool of_one_group(const Specimen& a, const Specimen& b) {
  return a.material == b.material && a.condition == b.condition &&
         a.orientation == b.orientation;
}

}  // namespace

const FaceMeasures* speaking_face(const SurfaceRecord& record) {
  const FaceMeasures* best = nullptr;
  double most = 0.0;
  for (const SurfaceMeasurement& photo : record.photos) {
    for (const FaceMeasures& face : photo.faces) {
      if (!face.judgement.verdict) continue;
      const double p = face.judgement.probability[std::size_t(*face.judgement.verdict)];
      if (p > most) best = &face;
      most = std::max(most, p);
    }
  }
  return best;
}

void look_at_faces(const SeriesPlan& plan, bool fresh, int jobs, SeriesResult& result) {
  for_each_index(result.bars.size(), jobs, [&](std::size_t i) {
    BarResult& bar = result.bars[i];
    if (bar.specimen.photos.empty() || !is_safe_id(bar.specimen.id)) return;
    bar.surface = stored_or_measured(plan, bar.specimen, fresh);
    compare_with_caliper(plan.section_u_mm, bar);
  });
}

void hold_look_against_energy(SeriesResult& result) {
  for (BarResult& bar : result.bars) {
    const auto look = look_of_bar(bar);
    if (!look || *look == FractureLook::Mixed) continue;
    const bool brittle = *look == FractureLook::Brittle;
    int others = 0;
    int against = 0;
    for (const BarResult& other : result.bars) {
      const auto other_look = look_of_bar(other);
      if (!other_look || *other_look == *look || *other_look == FractureLook::Mixed) continue;
      if (!of_one_group(bar.specimen, other.specimen)) continue;
      ++others;
      const bool more = bar.bar.energy_J->value() > other.bar.energy_J->value();
      against += more == brittle ? 1 : 0;
    }
    if (others < 2 || against < others) continue;
    bar.remarks.push_back(
        {"look-and-energy",
         Severity::Warning,
         std::string("The face looks ") + name_of(*look) + ", yet the bar took " +
             (brittle ? "more" : "less") + " than all " + std::to_string(others) +
             " bars of its group that look " + (brittle ? "ductile" : "brittle") +
             ". Look at the photograph and the clip; the energy is not changed."});
  }
}

}  // namespace swingloss
