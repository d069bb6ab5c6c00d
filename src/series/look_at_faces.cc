// SPDX-License-Identifier: Apache-2.0
#include "series/look_at_faces.h"

#include "core/input_error.h"
#include "core/number_text.h"
#include "core/parallel.h"
#include "series/appearance_model.h"
#include "series/bar_problem.h"
#include "series/fingerprint.h"
#include "series/measure_photo.h"
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

/// A photograph of a bar: which of the bars that name it this one is.
struct SharedPhoto {
  std::string name;  ///< as typed
  int place = 0, bars = 1;
};

std::vector<SharedPhoto> photos_of(const std::vector<BarResult>& bars, std::size_t index) {
  std::vector<SharedPhoto> photos;
  for (const std::string& name : bars[index].specimen.photos) {
    SharedPhoto photo{name, 0, 0};
    for (std::size_t i = 0; i < bars.size(); ++i) {
      const auto& others = bars[i].specimen.photos;
      if (std::find(others.begin(), others.end(), name) == others.end()) continue;
      photo.place += i < index ? 1 : 0;
      ++photo.bars;
    }
    photos.push_back(photo);
  }
  return photos;
}

std::string inputs_of(const SeriesPlan& plan,
                      const Specimen& specimen,
                      const std::vector<SharedPhoto>& photos) {
  std::string mark = std::string("swingloss ") + kVersion + " faces " +
                     std::to_string(kFaceMethodRevision) + "; ruler " +
                     (plan.ruler_mm ? number_text(*plan.ruler_mm) : std::string("none"));
  mark += "; orientation " + specimen.orientation;
  for (const SharedPhoto& photo : photos) {
    std::string content = "unreadable";
    try {
      content = content_mark(path_in_series(plan.folder, photo.name, "photos"));
    } catch (const InputError&) {
      content = "unreadable";
    }
    mark += "; photo " + content;
    if (photo.bars > 1)
      mark += ", bar " + std::to_string(photo.place + 1) + " of " + std::to_string(photo.bars);
  }
  return mark;
}

/// Of a photograph of several bars the faces of one; nothing where they cannot be told.
std::optional<SurfaceMeasurement> dealt(const SurfaceMeasurement& all,
                                        const SharedPhoto& photo) {
  SurfaceMeasurement own = all;
  own.faces.clear();
  own.pairs.clear();
  const auto place = std::size_t(photo.place);
  if (all.faces.size() == std::size_t(photo.bars)) {
    own.faces = {all.faces[place]};
    return own;
  }
  if (all.pairs.size() != std::size_t(photo.bars)) return {};
  const HalfPair& pair = all.pairs[place];
  own.faces = {all.faces[pair.first], all.faces[pair.second]};
  own.pairs = {{0, 1, pair.unlikeness}};
  return own;
}

Remark not_dealt(const SurfaceMeasurement& all, const SharedPhoto& photo) {
  std::string why;
  for (const Remark& remark : all.remarks) {
    if (remark.code == "halves-unpaired") why = remark.text;
  }
  return {"faces-not-dealt",
          Severity::Refusal,
          photo.name + ": " + std::to_string(photo.bars) + " bars name this photograph, and " +
              std::to_string(all.faces.size()) + " faces are on it. " + why};
}

/// Measures one photograph into the record; one that cannot be used is refused there.
void add_photo(const SeriesPlan& plan,
               const SharedPhoto& photo,
               SurfaceOptions options,
               SurfaceRecord& record) {
  try {
    options.bars = photo.bars;
    const auto measured = measure_photo(path_in_series(plan.folder, photo.name, "photos"),
                                        photo.name,
                                        standard_model(),
                                        options);
    if (!measured.ok()) {
      record.refused.push_back({measured.failure().code,
                                Severity::Refusal,
                                photo.name + ": " + sentences_of(measured.failure())});
      return;
    }
    const auto own =
        photo.bars == 1 ? std::optional(measured.value()) : dealt(measured.value(), photo);
    if (own) record.photos.push_back(*own);
    if (!own) record.refused.push_back(not_dealt(measured.value(), photo));
  } catch (const InputError& error) {
    InputFault fault = error.fault();
    fault.file = photo.name;  // as typed: where the series lies is no part of its results
    record.refused.push_back(
        {"unusable-photo", Severity::Refusal, InputError::sentence(fault)});
  }
}

SurfaceRecord measure(const SeriesPlan& plan,
                      const Specimen& specimen,
                      const std::vector<SharedPhoto>& photos) {
  SurfaceOptions options;
  if (plan.ruler_mm) options.ruler_m = 1e-3 * *plan.ruler_mm;
  SurfaceRecord record;
  record.orientation = specimen.orientation;
  for (const SharedPhoto& photo : photos) add_photo(plan, photo, options, record);
  return record;
}

/// Nothing where only stored records are wanted and there is none.
std::optional<SurfaceRecord> stored_or_measured(const SeriesPlan& plan,
                                                const Specimen& specimen,
                                                const std::vector<SharedPhoto>& photos,
                                                Reuse reuse) {
  const std::string path =
      (fs::path(plan.folder) / "results" / "surfaces" / (specimen.id + ".json")).string();
  const std::string inputs = inputs_of(plan, specimen, photos);
  if (reuse != Reuse::Nothing) {
    auto stored = stored_record(path, inputs, parse_surface_json);
    if (stored || reuse == Reuse::Only) return stored;
  }
  return keep_record(
      path, surface_json(measure(plan, specimen, photos), inputs), parse_surface_json);
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

/// A letter from the faces where none was typed or filmed; a remark where it is another.
void settle_break_type(BarResult& bar) {
  const BreakGuess guess = break_guess_of(*bar.surface);
  if (guess.letter.empty()) return;
  BreakType& type = bar.bar.break_type;
  if (type == BreakType::Unknown) {
    type = guess.letter == "H" ? BreakType::Hinge : BreakType::Complete;
    bar.remarks.push_back({"break-type-from-photograph",
                           Severity::Note,
                           "No break_type was typed; the photograph speaks for " +
                               guess.letter + ": " + guess.reason +
                               ". The energy is not changed by it."});
    return;
  }
  if (guess.letter == letter_of(type)) return;
  const bool typed = bar.specimen.break_type != BreakType::Unknown;
  bar.remarks.push_back({"break-type-differs",
                         Severity::Warning,
                         std::string("The break type is ") + letter_of(type) +
                             (typed ? " as typed" : " by the clip") +
                             ", the photograph speaks for " + guess.letter + ": " +
                             guess.reason + ". The " +
                             (typed ? "typed letter" : "clip's letter") + " is used."});
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

BreakGuess break_guess_of(const SurfaceRecord& record) {
  std::vector<const FaceMeasures*> all;
  for (const SurfaceMeasurement& photo : record.photos) {
    if (photo.pairs.size() == 1) {
      const BreakGuess guess = suggest_break(faces_of(photo, photo.pairs.front()), true);
      if (!guess.letter.empty() || record.photos.size() == 1) return guess;
    }
    for (const FaceMeasures& face : photo.faces) all.push_back(&face);
  }
  return suggest_break(all, false);
}

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

LayerReading layers_of_bar(const BarResult& bar) {
  const FaceMeasures* face = speaking_face(*bar.surface);
  for (const SurfaceMeasurement& photo : bar.surface->photos) {
    if (face == nullptr && !photo.faces.empty()) face = &photo.faces.front();
  }
  return face == nullptr ? LayerReading() : read_layers(*face, bar.specimen.orientation);
}

void look_at_faces(const SeriesPlan& plan, const FaceWork& work, SeriesResult& result) {
  for_each_index(result.bars.size(), work.jobs, [&](std::size_t i) {
    BarResult& bar = result.bars[i];
    if (!work.part.has(i) || bar.specimen.photos.empty() || !is_safe_id(bar.specimen.id))
      return;
    bar.surface = stored_or_measured(plan, bar.specimen, photos_of(result.bars, i), work.reuse);
    if (!bar.surface) {
      bar.problem = BarProblem{kNotMeasuredYet, bar.specimen.id};
      return;
    }
    compare_with_caliper(plan.section_u_mm, bar);
    settle_break_type(bar);
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
