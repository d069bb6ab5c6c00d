// SPDX-License-Identifier: Apache-2.0
#include "report/results_csv.h"

#include "core/angle.h"
#include "core/csv.h"
#include "core/expects.h"
#include "core/number_text.h"
#include "report/bar_remarks.h"
#include "report/escape.h"
#include "report/words.h"
#include "series/look_at_faces.h"
#include "surface/judge.h"

#include <algorithm>
#include <map>
#include <string_view>

namespace swingloss {
namespace {

/// Without it, spreadsheets take letters beyond ASCII for those of some other encoding.
constexpr std::string_view kUtf8Mark = "\xEF\xBB\xBF";

/// All columns, in order.
constexpr std::string_view kHeader =
    "row,name,other,material,condition,orientation,rig,clip,outcome,break_type,limit,"
    "energy_J,energy_u_J,strength_kJ_m2,strength_u_kJ_m2,release_angle_deg,release_angle_u_deg,"
    "rise_angle_deg,rise_angle_u_deg,friction_J,friction_u_J,impact_speed_m_s,"
    "impact_speed_u_m_s,thickness_mm,width_mm,"
    "photo_thickness_mm,photo_thickness_u_mm,photo_width_mm,photo_width_u_mm,look,p_brittle,"
    "p_mixed,p_ductile,photo_break_type,layers,mass_g,left_out_reason,problem,"
    "rank,rank_low,rank_high,unit,n_exact,n_above,n_below,n_apart,n_left_out,n_no_value,mean,"
    "bound,s,cv,"
    "interval_low,interval_high,with_shared_low,with_shared_high,u_shared,letters,p_best,"
    "differ_in,difference,difference_low,difference_high,ratio,ratio_low,ratio_high,"
    "change,change_low,change_high,p_value,p_holm,method,verdict,equivalent,bars_to_resolve,"
    "remarks";

std::vector<std::string> columns_of(std::string_view header) {
  std::vector<std::string> columns;
  while (!header.empty()) {
    const std::size_t end = std::min(header.find(','), header.size());
    columns.emplace_back(header.substr(0, end));
    header.remove_prefix(std::min(end + 1, header.size()));
  }
  return columns;
}

/// One row: only what is set is written.
class Row {
 public:
  void text(const char* column, const std::string& value) {
    cells_[column] = spreadsheet_text(value);
  }
  void interval(const std::string& stem, const Interval& interval) {
    number((stem + "_low").c_str(), interval.low);
    number((stem + "_high").c_str(), interval.high);
  }
  void number(const char* column, double value) { cells_[column] = number_text(value); }
  void number(const char* column, const std::optional<double>& value) {
    if (value) number(column, *value);
  }
  void count(const char* column, int value) { cells_[column] = std::to_string(value); }
  void with_u(const char* column,
              const char* u_column,
              const std::optional<Uncertain>& value,
              double scale = 1.0) {
    if (!value) return;
    number(column, scale * value->value());
    number(u_column, scale * value->u());
  }
  [[nodiscard]] std::string line() const {
    std::vector<std::string> fields;
    std::size_t written = 0;
    for (const std::string& column : columns_of(kHeader)) {
      const auto found = cells_.find(column);
      fields.push_back(found == cells_.end() ? std::string() : found->second);
      written += found == cells_.end() ? 0U : 1U;
    }
    expects(written == cells_.size(), "a cell without a column");
    return csv_line(fields);
  }

 private:
  std::map<std::string, std::string> cells_;
};

std::string joined(const Remarks& remarks) {
  std::string text;
  for (const Remark& remark : remarks) text += (text.empty() ? "" : " | ") + remark.text;
  return text;
}

void add_swing(Row& row, const SwingMeasurement& swing) {
  constexpr double kDeg = 180.0 / kPi;
  row.text("outcome", name_of(swing.outcome));
  row.with_u("release_angle_deg", "release_angle_u_deg", swing.release_angle_rad, kDeg);
  row.with_u("rise_angle_deg", "rise_angle_u_deg", swing.rise_angle_rad, kDeg);
  row.with_u("friction_J", "friction_u_J", swing.friction_J);
  row.with_u("impact_speed_m_s", "impact_speed_u_m_s", swing.impact_speed_m_per_s);
}

/// The first section and the look that speaks for the bar.
void add_surface(Row& row, const BarResult& bar) {
  std::optional<SectionSize> section;
  for (const SurfaceMeasurement& photo : bar.surface->photos) {
    for (const FaceMeasures& face : photo.faces) {
      if (!section) section = face.section;
    }
  }
  if (section) {
    row.with_u("photo_thickness_mm", "photo_thickness_u_mm", section->thickness_m, 1e3);
    row.with_u("photo_width_mm", "photo_width_u_mm", section->width_m, 1e3);
  }
  row.text("photo_break_type", break_guess_of(*bar.surface).letter);
  row.text("layers", name_of(layers_of_bar(bar).course));
  const FaceMeasures* face = speaking_face(*bar.surface);
  row.text("look", face == nullptr ? "cannot tell" : name_of(*face->judgement.verdict));
  if (face == nullptr) return;
  row.number("p_brittle", face->judgement.probability[0]);
  row.number("p_mixed", face->judgement.probability[1]);
  row.number("p_ductile", face->judgement.probability[2]);
}

std::string bar_line(const BarResult& bar) {
  Row row;
  row.text("row", "bar");
  row.text("name", bar.specimen.id);
  row.text("material", bar.specimen.material);
  row.text("condition", bar.specimen.condition);
  row.text("orientation", bar.specimen.orientation);
  row.text("rig", bar.bar.rig);
  row.text("clip", bar.specimen.clip);
  row.text("break_type", letter_of(bar.bar.break_type));
  row.text("limit", limit_sign(bar.bar.limit));
  row.with_u("energy_J", "energy_u_J", bar.bar.energy_J);
  row.with_u("strength_kJ_m2", "strength_u_kJ_m2", bar.bar.strength_kJ_m2);
  row.number("thickness_mm", bar.specimen.thickness_mm);
  row.number("width_mm", bar.specimen.width_mm);
  row.number("mass_g", bar.specimen.mass_g);
  if (bar.swing) add_swing(row, bar.swing->measurement);
  if (bar.surface) add_surface(row, bar);
  if (bar.bar.left_out) row.text("left_out_reason", bar.bar.left_out_reason);
  if (bar.problem) row.text("problem", bar.problem->text);
  row.text("remarks", joined(bar_remarks(bar)));
  return row.line();
}

std::string group_line(const GroupSummary& group, int rank, Quantity quantity) {
  Row row;
  row.text("row", "group");
  row.text("name", group.name);
  row.text("material", group.material);
  row.text("condition", group.condition);
  row.text("orientation", group.orientation);
  row.text("break_type", letter_of(group.main_break_type));
  row.text("remarks", joined(group.remarks));
  row.count("rank", rank);
  if (group.rank_low) row.count("rank_low", *group.rank_low);
  if (group.rank_high) row.count("rank_high", *group.rank_high);
  row.text("unit", unit_of(quantity));
  row.count("n_exact", group.n_exact);
  row.count("n_above", group.n_above);
  row.count("n_below", group.n_below);
  row.count("n_left_out", group.n_left_out);
  row.count("n_apart", group.n_apart);
  row.count("n_no_value", group.n_no_value);
  row.text("method", name_of(group.method));
  row.number("mean", group.mean);
  row.number("bound", group.bound);
  row.number("s", group.s);
  row.number("cv", group.cv);
  row.interval("interval", group.interval);
  row.interval("with_shared", group.interval_with_shared);
  row.number("u_shared", group.u_shared);
  row.text("letters", group.letters);
  row.number("p_best", group.p_best);
  return row.line();
}

std::string comparison_line(const Comparison& comparison, const Ranking& ranking) {
  Row row;
  row.text("row", "comparison");
  row.text("name", ranking.groups.at(comparison.first).name);
  row.text("other", ranking.groups.at(comparison.second).name);
  row.text("unit", unit_of(ranking.quantity));
  row.text("differ_in", list_words(comparison.differ_in, 5));
  row.number("difference", comparison.difference);
  row.interval("difference", comparison.difference_interval);
  row.number("ratio", comparison.ratio);
  row.interval("ratio", comparison.ratio_interval);
  row.number("p_value", comparison.p_value);
  row.number("p_holm", comparison.p_holm);
  row.text("method", comparison.method);
  row.text("verdict", name_of(comparison.verdict));
  row.text("equivalent", comparison.equivalent ? "yes" : "no");
  if (comparison.bars_to_resolve) row.count("bars_to_resolve", *comparison.bars_to_resolve);
  return row.line();
}

std::string effect_line(const FactorEffect& effect, const Ranking& ranking) {
  Row row;
  const GroupSummary& group = ranking.groups.at(effect.group);
  row.text("row", "effect");
  row.text("name", group.name);
  row.text("other", ranking.groups.at(effect.base_group).name);
  row.text("material", group.material);
  row.text("condition", group.condition);
  row.text("orientation", group.orientation);
  row.number("change", effect.change);
  row.interval("change", effect.change_interval);
  row.number("p_value", effect.p_value);
  row.number("p_holm", effect.p_holm);
  row.text("verdict", name_of(effect.verdict));
  return row.line();
}

}  // namespace

std::string results_csv(const SeriesResult& series) {
  std::string table = std::string(kUtf8Mark) + std::string(kHeader) + "\n";
  for (const BarResult& bar : series.bars) table += bar_line(bar);
  if (!series.ranking) return table;
  int rank = 0;
  for (const GroupSummary& group : series.ranking->groups) {
    table += group_line(group, ++rank, series.ranking->quantity);
  }
  for (const Comparison& comparison : series.ranking->comparisons) {
    table += comparison_line(comparison, *series.ranking);
  }
  for (const FactorEffect& effect : series.ranking->effects) {
    table += effect_line(effect, *series.ranking);
  }
  return table;
}

}  // namespace swingloss
