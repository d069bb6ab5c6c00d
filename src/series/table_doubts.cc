// SPDX-License-Identifier: Apache-2.0
#include "series/table_doubts.h"

#include "core/has_remark.h"
#include "core/median.h"
#include "core/number_text.h"
#include "core/text_file.h"
#include "series/calendar.h"
#include "series/name_list.h"
#include "series/same_clip.h"
#include "series/series_plan.h"

#include <algorithm>

namespace swingloss {
namespace {

constexpr double kFarFactor = 1.5;

using SizeOf = std::optional<double> Specimen::*;
using TextOf = std::string Specimen::*;

void add_far_sizes(const std::vector<SpecimenRow>& rows,
                   SizeOf size,
                   const std::string& column,
                   Remarks& remarks) {
  std::vector<double> all_mm;
  for (const SpecimenRow& row : rows) {
    if (row.specimen.*size) all_mm.push_back(*(row.specimen.*size));
  }
  const double usual_mm = median_of(all_mm);
  std::vector<std::string> far;
  for (const SpecimenRow& row : rows) {
    const std::optional<double>& x_mm = row.specimen.*size;
    if (!x_mm) continue;
    const double factor = *x_mm > usual_mm ? *x_mm / usual_mm : usual_mm / *x_mm;
    if (factor > kFarFactor) far.push_back(row.specimen.id + " (" + number_text(*x_mm) + ")");
  }
  if (far.empty()) return;
  remarks.push_back({"size-unlike-others",
                     Severity::Warning,
                     column + " of " + name_list(far) + " is far from the usual " +
                         number_text(usual_mm) +
                         " mm (median of all bars): a slip of the decimal point or of the "
                         "column? It was used as typed."});
}

void add_same_clips(const std::vector<SpecimenRow>& rows,
                    const std::string& folder,
                    Remarks& remarks) {
  std::vector<std::string> clips;
  for (const SpecimenRow& row : rows) {
    clips.push_back(
        row.specimen.clip.empty() ? "" : path_in_series(folder, row.specimen.clip, "clips"));
  }
  for (const std::vector<std::size_t>& alike : same_clips(clips)) {
    std::vector<std::string> bars;
    for (const std::size_t i : alike) {
      bars.push_back(rows[i].specimen.id + " (" + rows[i].specimen.clip + ")");
    }
    remarks.push_back({"same-clip",
                       Severity::Warning,
                       "One clip stands for several bars: " + name_list(bars) +
                           ". Each of them got the energy of the same blow; put the right clip "
                           "into the rows that were copied."});
  }
}

void add_missing_photos(const std::vector<SpecimenRow>& rows,
                        const std::string& folder,
                        Remarks& remarks) {
  std::vector<std::string> missing;
  for (const SpecimenRow& row : rows) {
    for (const std::string& photo : row.specimen.photos) {
      if (is_there(path_in_series(folder, photo, "photos"))) continue;
      missing.push_back(photo + " (" + row.specimen.id + ")");
    }
  }
  if (missing.empty()) return;
  remarks.push_back({"photo-missing",
                     Severity::Warning,
                     "Photos that are neither in the series folder nor in its folder photos: " +
                         name_list(missing) + ". Check the spelling, or copy them there."});
}

bool is_iso_date(const std::string& text) {
  return text.size() == 10 && text[4] == '-' && text[7] == '-' && day_number(text);
}

/// A plain number is a day counted from any start, as masses.csv may count them.
void add_odd_dates(const std::vector<SpecimenRow>& rows,
                   TextOf date,
                   const std::string& column,
                   Remarks& remarks) {
  std::vector<std::string> unread;
  std::vector<std::string> other;
  for (const SpecimenRow& row : rows) {
    const std::string& text = row.specimen.*date;
    if (text.empty() || is_iso_date(text) || parse_number(text)) continue;
    (day_number(text) ? other : unread).push_back(row.specimen.id + " (" + text + ")");
  }
  if (!unread.empty()) {
    remarks.push_back(
        {"date-unread",
         Severity::Warning,
         column + " of " + name_list(unread) +
             " is no day of a calendar and counts as not given; wanted year-month-"
             "day, as 2024-03-01."});
  }
  if (!other.empty()) {
    remarks.push_back({"date-form",
                       Severity::Note,
                       column + " of " + name_list(other) +
                           " was read as day.month.year; year-month-day, as 2024-03-01, cannot "
                           "be misread."});
  }
}

void add_unused_energies(const std::vector<SpecimenRow>& rows, Remarks& remarks) {
  std::vector<std::string> both;
  for (const SpecimenRow& row : rows) {
    if (!row.specimen.clip.empty() && row.specimen.energy_J) both.push_back(row.specimen.id);
  }
  if (both.empty()) return;
  remarks.push_back({"typed-energy-unused",
                     Severity::Note,
                     "clip and energy_J are both given for " + name_list(both) +
                         ": the clip's energy was used, the typed one only compared."});
}

/// Bars that could have been ranked by strength had all of them a section.
void add_unit_switch(const SeriesResult& result, Remarks& remarks) {
  if (!result.ranking || result.ranking_options.quantity) return;
  if (result.ranking->quantity != Quantity::Energy_J) return;
  std::vector<std::string> without;
  bool some_have_it = false;
  for (const BarResult& bar : result.bars) {
    if (!bar.bar.energy_J) continue;
    if (bar.bar.strength_kJ_m2) {
      some_have_it = true;
    } else {
      without.push_back(bar.specimen.id);
    }
  }
  if (!some_have_it || without.empty()) return;
  remarks.push_back(
      {"unit-by-missing-section",
       Severity::Warning,
       "The whole series is ranked by energy in J, not by strength in kJ/m\u00B2, because "
       "thickness_mm or width_mm is missing for " +
           name_list(without) +
           ". Fill them in, or ask for one quantity: \"quantity\" "
           "in series.json, --quantity of rank."});
}

bool friction_was_guessed(const BarResult& bar) {
  if (!bar.swing || bar.problem) return false;
  return has_remark(bar.swing->measurement.remarks, "friction-unknown");
}

void add_guessed_friction(const SeriesResult& result, Remarks& remarks) {
  for (const Rig& rig : result.rigs) {
    std::vector<std::string> bars;
    for (const BarResult& bar : result.bars) {
      if (bar.bar.rig == rig.name && friction_was_guessed(bar)) bars.push_back(bar.specimen.id);
    }
    if (bars.empty()) continue;
    remarks.push_back(
        {"friction-guessed",
         Severity::Warning,
         "The friction of rig " + rig.name + " is not known and was guessed for " +
             name_list(bars) +
             ", with a wide uncertainty. Film a swing without a bar and list it under "
             "free_swings in series.json."});
  }
}

}  // namespace

Remarks doubts_of_table(const std::vector<SpecimenRow>& rows, const std::string& folder) {
  Remarks remarks;
  add_far_sizes(rows, &Specimen::thickness_mm, "thickness_mm", remarks);
  add_far_sizes(rows, &Specimen::width_mm, "width_mm", remarks);
  add_odd_dates(rows, &Specimen::made_on, "made_on", remarks);
  add_odd_dates(rows, &Specimen::tested_on, "tested_on", remarks);
  if (folder.empty()) return remarks;
  add_same_clips(rows, folder, remarks);
  add_unused_energies(rows, remarks);
  add_missing_photos(rows, folder, remarks);
  return remarks;
}

Remarks doubts_of_result(const SeriesResult& result) {
  Remarks remarks;
  add_unit_switch(result, remarks);
  add_guessed_friction(result, remarks);
  return remarks;
}

}  // namespace swingloss
