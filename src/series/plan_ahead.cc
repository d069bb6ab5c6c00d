// SPDX-License-Identifier: Apache-2.0
#include "series/plan_ahead.h"

#include "core/angle.h"
#include "core/input_error.h"
#include "core/number_text.h"
#include "core/text_file.h"
#include "rig/rig.h"
#include "series/series_plan.h"
#include "swing/energy.h"

#include <algorithm>
#include <cmath>
#include <filesystem>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

/// A latch may give this much of the stated capacity: 1 % over it, as ISO 148-2 lets the energy
/// of a release be (from memory).
constexpr double kCapacityAllowance = 1.01;
constexpr double kUsualCv = 0.10;
constexpr double kUsualRelease_rad = 150.0 * kPi / 180.0;

void require_share(const char* field, double found, double most) {
  if (found >= 0.001 && found <= most) return;
  throw InputError({"",
                    field,
                    std::isfinite(found) ? number_text(found) : "a number that is not finite",
                    "a part of the mean, 0.001 to " + number_text(most),
                    "Write 0.10 for 10 %."});
}

void require_shares(const PlanRequest& request) {
  if (request.cv) require_share("--cv", *request.cv, 2.0);
  for (const double difference : request.question.differences) {
    require_share("--difference", difference, 1.0);
  }
  for (const double width : request.half_widths) require_share("--half-width", width, 1.0);
}

/// The table behind what was named.
std::string table_of(const std::string& source) {
  if (!fs::is_directory(source)) return source;
  const fs::path results = fs::path(source) / "results" / "results.csv";
  return (is_there(results.string()) ? results : fs::path(source) / "specimens.csv").string();
}

/// Scatter that all groups together may well have: pooled relative variance, upper 80 % limit.
std::optional<double> cautious_cv(const Ranking& ranking) {
  double squares = 0.0;
  int degrees_of_freedom = 0;
  for (const GroupSummary& group : ranking.groups) {
    if (!group.cv || group.n_exact < 2) continue;
    squares += (group.n_exact - 1) * *group.cv * *group.cv;
    degrees_of_freedom += group.n_exact - 1;
  }
  if (degrees_of_freedom == 0 || squares == 0.0) return {};
  return cautious_scatter(std::sqrt(squares / degrees_of_freedom), degrees_of_freedom + 1);
}

void read_source(const PlanRequest& request, PlanAnswer& answer) {
  answer.source = rank_table(table_of(request.source), request.table);
  answer.remarks = answer.source->remarks;
  if (!answer.source->ranking) return;
  answer.half_widths = request.half_widths;
  answer.reached = precision_reached(*answer.source->ranking, request.half_widths);
}

void settle_scatter(const PlanRequest& request, PlanAnswer& answer) {
  answer.question = request.question;
  if (request.cv) {
    answer.question.cv = *request.cv;
    answer.cv_words = "as typed";
    return;
  }
  const auto found = answer.source && answer.source->ranking
                         ? cautious_cv(*answer.source->ranking)
                         : std::optional<double>();
  answer.question.cv = found.value_or(kUsualCv);
  answer.cv_words =
      found ? "what the groups of " + answer.source->title + " may well have (80 %, one-sided)"
            : "a usual figure for broken bars; type your own with --cv";
}

/// Whether an end of the expected range is only a limit.
void remark_limits(PlanAnswer& answer) {
  for (const BarResult& result : answer.source->bars) {
    const Bar& bar = result.bar;
    if (!bar.energy_J || bar.left_out || bar.limit == Limit::None) continue;
    const double energy_J = bar.energy_J->value();
    const bool above = bar.limit == Limit::Above && energy_J == *answer.expected_high_J;
    const bool below = bar.limit == Limit::Below && energy_J == *answer.expected_low_J;
    if (!above && !below) continue;
    answer.remarks.push_back(
        {"expected-from-limit",
         Severity::Note,
         std::string(above ? "The largest" : "The smallest") + " energy of the source, bar " +
             bar.id + "'s, is a limit: bars to come may take " + (above ? "more" : "less") +
             ". Type the range you expect with --energy."});
    return;
  }
}

void settle_energies(const PlanRequest& request, PlanAnswer& answer) {
  answer.expected_low_J = request.expected_low_J;
  answer.expected_high_J = request.expected_high_J;
  answer.expected_words = "as typed";
  if (answer.expected_low_J || !answer.source) return;
  for (const BarResult& result : answer.source->bars) {
    if (!result.bar.energy_J || result.bar.left_out) continue;
    const double energy_J = result.bar.energy_J->value();
    answer.expected_low_J = std::min(answer.expected_low_J.value_or(energy_J), energy_J);
    answer.expected_high_J = std::max(answer.expected_high_J.value_or(energy_J), energy_J);
  }
  answer.expected_words = "smallest and largest energy in " + answer.source->title;
  remark_limits(answer);
}

/// Release that gives the rig its capacity; nothing where it has none, or not so much moment.
std::optional<double> release_of_capacity(const Rig& rig) {
  if (!rig.capacity_J) return {};
  const double lift = *rig.capacity_J / rig.pendulum.moment_Nm.value();
  return lift > 0.0 && lift < 2.0 ? std::optional<double>(std::acos(1.0 - lift)) : std::nullopt;
}

double height_of(const Rig& rig, double release_rad) {
  return rig.pendulum.moment_Nm.value() * (1.0 - std::cos(release_rad));
}

std::string degrees_words(double release_rad) {
  return fixed_text(Angle::from_rad(release_rad).deg(), 1) + " degrees";
}

/// What was taken for the highest release, where the rig file's latch does not say it.
void remark_release(const Rig& rig,
                    const Hammer& hammer,
                    const PlanRequest& request,
                    Remarks& remarks) {
  const std::optional<double> latch_rad = rig.pendulum.release_angle_rad
                                              ? rig.pendulum.release_angle_rad->value()
                                              : request.release_most_rad;
  const bool is_cut = hammer.release_most_rad < latch_rad.value_or(kPi);
  const std::string name = "rig " + rig.name + ": ";
  if (is_cut && release_of_capacity(rig) == hammer.release_most_rad) {
    remarks.push_back(
        {"release-of-capacity",
         Severity::Note,
         name + degrees_words(hammer.release_most_rad) + " is taken as its highest release" +
             (latch_rad ? " and not " + degrees_words(*latch_rad) : std::string()) +
             ": it gives the capacity_J of " + number_text(*rig.capacity_J) +
             " J in the file."});
  } else if (!latch_rad) {
    remarks.push_back({"release-assumed",
                       Severity::Note,
                       name + "the file has no release_angle_deg; 150 degrees are taken "
                              "as its highest. Type yours with --release-deg."});
  }
}

std::vector<Hammer> hammers_of(const PlanRequest& request, PlanAnswer& answer) {
  std::vector<Hammer> hammers;
  for (const std::string& file : request.rigs) {
    const Rig rig = read_rig(file);
    const double most_rad = request.release_most_rad.value_or(kUsualRelease_rad);
    hammers.push_back(hammer_of(rig, most_rad, request));
    remark_release(rig, hammers.back(), request, answer.remarks);
  }
  return hammers;
}

void plan_hammers(const PlanRequest& request, PlanAnswer& answer) {
  const std::vector<Hammer> hammers = hammers_of(request, answer);
  if (hammers.empty()) return;
  if (!answer.expected_low_J || !answer.expected_high_J) {
    answer.remarks.push_back({"expected-energy-missing",
                              Severity::Note,
                              "No hammer is compared and no release planned: type the energies "
                              "that the bars may take, --energy LOW HIGH [J], or name a table "
                              "of bars already broken."});
    return;
  }
  answer.window = request.window;
  answer.hammers =
      choose_hammer(hammers, *answer.expected_low_J, *answer.expected_high_J, request.window);
  std::vector<double> energies_J = {*answer.expected_low_J};
  if (*answer.expected_high_J > *answer.expected_low_J) {
    energies_J.push_back(*answer.expected_high_J);
  }
  for (const Hammer& hammer : hammers) {
    std::vector<double> releases_rad;
    const int most_deg =
        static_cast<int>(std::floor(Angle::from_rad(hammer.release_most_rad).deg() + 1e-9));
    for (int deg = 5; deg <= most_deg; ++deg) {
      releases_rad.push_back(std::min(Angle::from_deg(deg).rad(), hammer.release_most_rad));
    }
    for (const double energy_J : energies_J) {
      answer.curves.push_back({hammer.name,
                               energy_J,
                               plan_release(hammer, energy_J, releases_rad, request.window)});
    }
  }
}

}  // namespace

Hammer hammer_of(const Rig& rig, double release_most_rad, const PlanRequest& request) {
  const Pendulum& pendulum = rig.pendulum;
  Hammer hammer;
  hammer.name = rig.name;
  hammer.moment_Nm = pendulum.moment_Nm;
  hammer.release_most_rad =
      pendulum.release_angle_rad ? pendulum.release_angle_rad->value() : release_most_rad;
  const std::optional<double> full_rad = release_of_capacity(rig);
  if (full_rad &&
      height_of(rig, hammer.release_most_rad) > kCapacityAllowance * *rig.capacity_J) {
    hammer.release_most_rad = *full_rad;
  }
  hammer.u_release_rad = request.u_angle_rad;
  hammer.u_rise_rad = request.u_angle_rad;
  hammer.u_zero_rad = request.u_zero_rad;
  if (pendulum.strike_radius_m) hammer.strike_radius_m = pendulum.strike_radius_m->value();
  if (pendulum.friction && hammer.release_most_rad < kPi) {
    hammer.friction_J = friction_work_J(pendulum.moment_Nm,
                                        law_of(*pendulum.friction, pendulum),
                                        Uncertain::exact(hammer.release_most_rad),
                                        Uncertain::exact(0.8 * hammer.release_most_rad));
  }
  return hammer;
}

PlanAnswer plan_ahead(const PlanRequest& request) {
  require_shares(request);
  PlanAnswer answer;
  if (!request.source.empty()) read_source(request, answer);
  settle_scatter(request, answer);
  answer.bars = plan_bars(answer.question);
  answer.precision = plan_precision(answer.question, request.most_bars);
  settle_energies(request, answer);
  plan_hammers(request, answer);
  return answer;
}

}  // namespace swingloss
