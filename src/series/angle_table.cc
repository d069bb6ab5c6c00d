// SPDX-License-Identifier: Apache-2.0
#include "series/angle_table.h"

#include "core/angle.h"
#include "core/csv.h"
#include "core/input_error.h"
#include "core/median.h"
#include "core/number_text.h"
#include "series/plain_table.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

constexpr double kDeg = 180.0 / kPi;

/// A column that is there under one of two names, and what turns its numbers into radians.
struct AngleColumn {
  std::string name;
  double rad = 1.0;
};

std::optional<AngleColumn> column_among(const CsvTable& table,
                                        const std::vector<AngleColumn>& names) {
  const auto found = std::find_if(names.begin(), names.end(), [&](const AngleColumn& column) {
    return table.has_column(column.name);
  });
  if (found == names.end()) return {};
  return *found;
}

AngleColumn angle_column(const CsvTable& table) {
  const auto column = column_among(
      table,
      {{"angle_deg", 1.0 / kDeg}, {"angle_from_hanging_deg", 1.0 / kDeg}, {"angle_rad", 1.0}});
  if (!column) table.require_columns({"angle_deg"});
  return *column;
}

double scatter_rad(const std::vector<AngleSample>& samples) {
  std::vector<double> sizes;
  for (std::size_t i = 3; i < samples.size(); ++i) {
    sizes.push_back(std::abs(samples[i].theta_rad - samples[i - 3].theta_rad -
                             3.0 * (samples[i - 1].theta_rad - samples[i - 2].theta_rad)));
  }
  // The coefficients 1, 3, 3, 1 of a third difference make its variance 20 times a sample's.
  return 1.4826 * median_of(std::move(sizes)) / std::sqrt(20.0);
}

double finest_step_rad(const std::vector<AngleSample>& samples) {
  constexpr double kSame_rad = 1e-9;  // two texts of one angle may differ by rounding
  std::vector<double> angles;
  angles.reserve(samples.size());
  for (const AngleSample& sample : samples) angles.push_back(sample.theta_rad);
  std::sort(angles.begin(), angles.end());
  double finest = 0.0;
  for (std::size_t i = 1; i < angles.size(); ++i) {
    const double step = angles[i] - angles[i - 1];
    if (step > kSame_rad && (finest == 0.0 || step < finest)) finest = step;
  }
  return finest;
}

void take_u_from_scatter(AngleTable& result) {
  std::vector<AngleSample>& samples = result.track.samples;
  constexpr double kLeast_rad = 1e-6;  // a file of one angle only has neither scatter nor step
  const double u_rad =
      std::max({scatter_rad(samples), finest_step_rad(samples) / std::sqrt(12.0), kLeast_rad});
  for (AngleSample& sample : samples) sample.u_rad = u_rad;
  result.remarks.push_back(
      {"u-from-scatter",
       Severity::Note,
       "The file has no column u_deg: " + significant_text(u_rad * kDeg, 2) +
           " deg was taken, from the scatter of neighbouring angles and "
           "their finest step."});
}

void check(const CsvTable& table, std::size_t row, const AngleTrack& track) {
  const AngleSample& sample = track.samples[row];
  if (row > 0 && sample.t_s <= track.samples[row - 1].t_s) {
    throw table.fault(row,
                      "t_s",
                      "a time after that of the row before",
                      "Sort the rows by time and take doubles out.");
  }
}

}  // namespace

namespace {

AngleTable named_columns(const std::string& path) {
  const CsvTable table = read_csv(path);
  table.check_columns(
      {"t_s", "angle_deg", "angle_from_hanging_deg", "angle_rad", "u_deg", "u_rad"});
  table.require_columns({"t_s"});
  const AngleColumn angle = angle_column(table);
  const auto u = column_among(table, {{"u_deg", 1.0 / kDeg}, {"u_rad", 1.0}});
  AngleTable result;
  for (std::size_t row = 0; row < table.row_count(); ++row) {
    const double u_rad = u ? u->rad * table.number(row, u->name) : 1.0;
    if (u_rad <= 0.0)
      throw table.fault(row, u->name, "a number above zero", "Give one standard uncertainty.");
    result.track.samples.push_back(
        {table.number(row, "t_s"), angle.rad * table.number(row, angle.name), u_rad, -1});
    check(table, row, result.track);
  }
  if (!u) take_u_from_scatter(result);
  return result;
}

constexpr const char* kWanted =
    "the columns t_s and angle_deg (or angle_from_hanging_deg, angle_rad)";
constexpr const char* kHowToSay =
    "Or say where they are: --columns TIME,ANGLE (names, or numbers from 1), --rate N for "
    "angles alone, --skip N for lines before the table, --angle-unit rad.";

/// Refuses a header that is quite another table's, before its rows are looked at.
void require_known_header(const PlainTable& table, const std::string& path) {
  const auto known = [](const std::string& name) {
    return name.find("t_s") != std::string::npos || name.find("angle_") != std::string::npos ||
           name.rfind("sep=", 0) == 0;
  };
  if (std::any_of(table.names.begin(), table.names.end(), known)) return;
  std::string found;
  for (const std::string& name : table.names) found += (found.empty() ? "" : ", ") + name;
  throw InputError({path, "first line", "the columns " + found, kWanted, kHowToSay});
}

AngleTable places_of(const PlainTable& table, AngleTableOptions options) {
  AngleTable result;
  if (options.columns.empty() && options.rate_per_s <= 0.0) {
    if (table.rows.front().size() < 2) {
      throw InputError({table.file, "first row", "one column of numbers", kWanted, kHowToSay});
    }
    options.columns = {"1", "2"};
    result.remarks.push_back(
        {"columns-assumed",
         Severity::Note,
         std::string("The first column was taken as time and the second as the angle in ") +
             (options.radians ? "radians." : "degrees.")});
  }
  if (options.columns.empty()) options.columns = {"1"};
  const bool timed = options.columns.size() > 1;
  const std::size_t time = timed ? table.column(options.columns.front()) : 0;
  const std::size_t angle = table.column(options.columns.back());
  const double unit_rad = options.radians ? 1.0 : 1.0 / kDeg;
  for (std::size_t row = 0; row < table.rows.size(); ++row) {
    const double t_s = timed ? options.time_unit_s * table.number(row, time)
                             : static_cast<double>(row) / options.rate_per_s;
    const bool grows = row == 0 || t_s > result.track.samples.back().t_s;
    if (!grows) table.refuse(row, time, "a time after that of the row before");
    result.track.samples.push_back({t_s, unit_rad * table.number(row, angle), 1.0, -1});
  }
  take_u_from_scatter(result);
  return result;
}

void check_options(const AngleTableOptions& options) {
  const bool alone = options.columns.size() == 1;
  if (options.columns.size() > 2 || (alone && options.rate_per_s <= 0.0)) {
    throw InputError({"",
                      "--columns",
                      std::to_string(options.columns.size()) + " column(s)",
                      "TIME,ANGLE, or ANGLE with --rate",
                      "Names as in the file's header, or numbers from 1."});
  }
}

}  // namespace

AngleTable read_angle_table(const std::string& path, const AngleTableOptions& options) {
  check_options(options);
  const PlainTable table = read_plain_table(path, options.skip_lines);
  if (options.any() || table.names.empty()) return places_of(table, options);
  require_known_header(table, path);
  return named_columns(path);
}

}  // namespace swingloss
