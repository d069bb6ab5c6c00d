// SPDX-License-Identifier: Apache-2.0
/// \file compare_truth.cc
/// demo_compare SERIES: how far what was measured is from what was rendered.
///
/// Reads SERIES/truth.json, which `swingloss demo` writes and `swingloss run` never opens, and
/// SERIES/results. Exit 0: every compared energy within 4 of its own standard
/// uncertainties, likewise the sizes of photographed sections, and every clip that shows its
/// swing measured; 1: not so; 2: files unreadable.
#include "compare_faces.h"

#include <algorithm>
#include <cmath>
#include <exception>
#include <iomanip>
#include <iostream>
#include <optional>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

namespace {

using namespace swingloss::demo;
using nlohmann::json;

/// One bar of truth.json beside its measured self.
struct Line {
  std::string id;
  bool broke = true;  ///< in truth; else it took at least true_J, all that the blow had
  bool shows_turn =
      false;  ///< its clip lasts to the first turning point, so it can be measured
  double true_J = 0.0, true_release_deg = 0.0, true_rise_deg = 0.0;
  std::optional<Estimate> absorbed_J, release_deg, rise_deg;
  bool at_least = false;  ///< measured energy is a lower bound
  std::string why_not;    ///< when there is no energy
};

/// What the series' results say of a bar that has no value.
std::string problem_text(const json& results, const std::string& id) {
  for (const json& bar : results.at("bars")) {
    const json problem = bar.at("id") == id ? bar.value("problem", json()) : json();
    if (problem.is_object()) return problem.value("text", "");
  }
  return "no energy, and no reason given";
}

void add_measured(Line& line, const json& swing) {
  line.absorbed_J = estimate(swing, "absorbed_J");
  line.release_deg = estimate(swing, "release_angle_deg");
  line.rise_deg = estimate(swing, "rise_angle_deg");
  if (!line.absorbed_J) return;
  const json censored = swing.at("absorbed_J").value("censored", json());
  line.at_least = censored.is_string() && censored == "right";
}

std::vector<Line> read_lines(const std::string& series) {
  std::vector<Line> lines;
  const json truth = read_json(series + "/truth.json");
  const json results = read_json(series + "/results/results.json");
  for (const json& bar : truth.at("bars")) {
    Line line;
    line.id = bar.at("id").get<std::string>();
    line.broke = bar.at("outcome") == "broken";
    line.shows_turn = bar.at("turn_s").is_number();
    line.true_J = bar.at(line.broke ? "absorbed_J" : "available_J").get<double>();
    line.true_release_deg = bar.at("release_deg").get<double>();
    line.true_rise_deg = bar.at("rise_deg").get<double>();
    const std::string path = series + "/results/swings/" + line.id + ".json";
    if (is_there(path)) add_measured(line, read_json(path));
    if (!line.absorbed_J) line.why_not = problem_text(results, line.id);
    lines.push_back(line);
  }
  return lines;
}

std::string difference(const std::optional<Estimate>& measured, double truth) {
  return measured ? fixed(measured->value - truth, 3, true) : "-";
}

/// What all compared energies say together.
struct Tally {
  int compared = 0, wrong = 0;
  double worst_percent = 0.0, sum_of_squared_scores = 0.0;
};

void print_cells(const std::vector<std::string>& cells) {
  std::cout << std::left << std::setw(12) << cells[0] << std::right;
  for (std::size_t i = 1; i < cells.size(); ++i) std::cout << "  " << std::setw(11) << cells[i];
  std::cout << '\n';
}

std::string bound_mark(bool at_least) { return at_least ? "> " : ""; }

void print_measured(const Line& line, Tally& tally) {
  const double off_J = line.absorbed_J->value - line.true_J;
  const double score = off_J / line.absorbed_J->u;
  const double percent = 100.0 * off_J / line.true_J;
  const bool sound = std::abs(score) <= kLimit_in_u && line.broke != line.at_least;
  tally.compared += 1;
  tally.wrong += sound ? 0 : 1;
  tally.worst_percent = std::max(tally.worst_percent, std::abs(percent));
  tally.sum_of_squared_scores += score * score;
  print_cells({line.id,
               bound_mark(!line.broke) + fixed(line.true_J, 4),
               bound_mark(line.at_least) + fixed(line.absorbed_J->value, 4),
               fixed(line.absorbed_J->u, 4),
               fixed(percent, 2, true),
               fixed(score, 1, true),
               difference(line.release_deg, line.true_release_deg),
               difference(line.rise_deg, line.true_rise_deg),
               sound ? "" : "!"});
}

/// No energy is right only where the clip does not show the turning point.
void print_unmeasured(const Line& line, Tally& tally) {
  tally.wrong += line.shows_turn ? 1 : 0;
  print_cells({line.id,
               bound_mark(!line.broke) + fixed(line.true_J, 4),
               "-",
               "-",
               "-",
               "-",
               difference(line.release_deg, line.true_release_deg),
               difference(line.rise_deg, line.true_rise_deg),
               line.shows_turn ? "!" : ""});
  std::cout << "    " << line.why_not << '\n';
}

Tally print_table(const std::vector<Line>& lines) {
  std::cout << "Measured against rendered truth (off = measured - true, of release and rise in "
               "degrees; > : at least)\n\n";
  print_cells({"bar",
               "true J",
               "measured J",
               "u J",
               "off %",
               "off / u",
               "release off",
               "rise off",
               ""});
  Tally tally;
  for (const Line& line : lines) {
    if (line.absorbed_J) {
      print_measured(line, tally);
    } else {
      print_unmeasured(line, tally);
    }
  }
  return tally;
}

int conclude(const Tally& tally, std::size_t bars) {
  if (tally.compared == 0) {
    std::cout << "\nNo energy could be compared with the truth.\n";
    return 1;
  }
  std::cout << '\n'
            << tally.compared << " of " << bars << " energies compared: the worst is "
            << fixed(tally.worst_percent, 2) << " % off; root mean square of off / u is "
            << fixed(std::sqrt(tally.sum_of_squared_scores / tally.compared), 2)
            << " (near 1 when u is honest).\n";
  if (tally.wrong == 0) return 0;
  std::cout
      << tally.wrong << " marked ! are wrong: farther off than " << kLimit_in_u
      << " u, a bound for a value or the reverse, or not measured though the clip shows it.\n";
  return 1;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) {
    std::cerr << "Usage: demo_compare SERIES      a folder that `swingloss demo` wrote and "
                 "`swingloss run` measured\n";
    return 2;
  }
  try {
    const std::vector<Line> lines = read_lines(argv[1]);
    const Tally tally = print_table(lines);
    const bool faces_sound = compare_faces(argv[1]);
    const int status = conclude(tally, lines.size());
    return faces_sound ? status : 1;
  } catch (const std::exception& error) {
    std::cerr << error.what() << '\n';
    return 2;
  }
}
