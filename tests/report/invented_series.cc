// SPDX-License-Identifier: Apache-2.0
#include "report/invented_series.h"

#include "core/angle.h"

#include <algorithm>
#include <cmath>

namespace swingloss::test {
namespace {

constexpr double kRadPerDeg = kPi / 180.0;

Uncertain shared(double value, double u, const std::string& source) {
  return Uncertain::from(value, u, source, SourceKind::Shared);
}

Rig invented_rig() {
  Rig rig;
  rig.name = "bench pendulum";
  rig.pendulum.moment_Nm = shared(2.21, 0.006, "rig.moment");
  rig.pendulum.reduced_length_m = shared(0.3302, 0.0006, "rig.reduced-length");
  rig.pendulum.gravity_m_per_s2 = shared(9.8107, 0.0001, "rig.gravity");
  rig.pendulum.strike_radius_m = shared(0.335, 0.001, "rig.strike-radius");
  rig.pendulum.friction = FrictionModel{shared(0.0041, 0.0003, "rig.friction-dry"),
                                        Uncertain(),
                                        shared(0.0006, 0.0001, "rig.friction-air")};
  rig.pendulum.release_angle_rad = shared(125.0 * kRadPerDeg, 0.2 * kRadPerDeg, "rig.latch");
  rig.mass_kg = shared(0.982, 0.001, "rig.mass");
  rig.capacity_J = 3.4;
  rig.remarks = {{"no-period",
                  Severity::Note,
                  "The period of small swings was not given; the reduced length was typed."}};
  return rig;
}

/// Bars of one group as they are typed below.
struct GroupSpec {
  std::string material, condition, orientation;
  std::vector<double> rise_deg;
};

BarResult filmed_bar(const GroupSpec& group,
                     const std::string& id,
                     double rise_deg,
                     bool mirrored) {
  BarResult bar;
  Specimen& specimen = bar.specimen;
  specimen.id = id;
  specimen.material = group.material;
  specimen.condition = group.condition;
  specimen.orientation = group.orientation;
  specimen.rig = "rig.json";
  specimen.clip = "clips/" + id + ".mp4";
  specimen.thickness_mm = 4.02;
  specimen.width_mm = 7.98;
  specimen.notch = "A";
  specimen.break_type = BreakType::Complete;
  bar.swing = invented_swing(124.6, rise_deg, mirrored);
  bar.swing->clip = specimen.clip;
  bar.bar.id = id;
  bar.bar.material = group.material;
  bar.bar.condition = group.condition;
  bar.bar.orientation = group.orientation;
  bar.bar.rig = "bench pendulum";
  bar.bar.break_type = BreakType::Complete;
  bar.bar.energy_J = bar.swing->measurement.absorbed_J;
  bar.bar.strength_kJ_m2 = (1000.0 / (4.02 * 7.98)) * *bar.bar.energy_J;
  return bar;
}

/// Mean, spread and an interval by a made-up factor: the report only has to show them.
GroupSummary summary_of(const SeriesResult& series, const std::vector<std::size_t>& bars) {
  GroupSummary group;
  const Bar& any = series.bars[bars.front()].bar;
  group.material = any.material;
  group.condition = any.condition;
  group.orientation = any.orientation;
  group.name = any.material;
  for (const std::string& part : {any.condition, any.orientation}) {
    if (!part.empty()) group.name += " / " + part;
  }
  group.main_break_type = BreakType::Complete;
  group.bars = bars;
  double sum = 0.0;
  double squares = 0.0;
  for (const std::size_t i : bars) {
    const Bar& bar = series.bars[i].bar;
    if (bar.left_out) ++group.n_left_out;
    if (!bar.strength_kJ_m2 || bar.left_out) continue;
    ++(bar.limit == Limit::Above ? group.n_above : group.n_exact);
    sum += bar.strength_kJ_m2->value();
    squares += std::pow(bar.strength_kJ_m2->value(), 2);
  }
  const double n = group.n_exact + group.n_above;
  group.mean = sum / n;
  group.s = std::sqrt(std::max(0.0, (squares - sum * sum / n) / (n - 1.0)));
  group.cv = *group.s / *group.mean;
  group.interval = {*group.mean - 2.6 * *group.s / std::sqrt(n),
                    *group.mean + 2.6 * *group.s / std::sqrt(n)};
  group.method = MeanMethod::Sample;
  group.u_shared = 0.0031 * *group.mean;
  group.interval_with_shared = {*group.interval.low - 0.2, *group.interval.high + 0.2};
  group.budget = {{"bar to bar", BudgetKind::Scatter, *group.s / std::sqrt(n), 0.8},
                  {"rig.moment", BudgetKind::Shared, group.u_shared, 0.15},
                  {"fit.rise", BudgetKind::Own, 0.05, 0.05}};
  return group;
}

/// One clear effect and one that is not, with names and numbers that need not fit the bars.
void add_effects(Ranking& ranking) {
  FactorEffect effect;
  effect.setting = "Korvel / flat";
  effect.level = "annealed";
  effect.base = "as-made";
  effect.group = 0;
  effect.base_group = 2;
  effect.change = 0.296;
  effect.change_interval = {0.24, 0.355};
  effect.p_value = 0.0002;
  effect.p_holm = 0.0004;
  effect.verdict = Verdict::Clear;
  ranking.effects.push_back(effect);
  effect.setting = hostile_name();
  effect.level = "dried <b>";
  effect.group = 1;
  effect.base_group = 3;
  effect.change = -0.06;
  effect.change_interval = {-0.31, 0.19};
  effect.p_holm = 0.4;
  effect.verdict = Verdict::NotResolved;
  ranking.effects.push_back(effect);
  ranking.effect_sentences = {
      "Korvel / flat: annealed raises it by 30 % (24 % to 36 %) against as-made."};
  ranking.overall = WelchAnova{412.3, 4.0, 6.3, 0.00000012};
}

void add_ranking(SeriesResult& series, const std::vector<std::vector<std::size_t>>& members) {
  Ranking ranking;
  for (const auto& bars : members) ranking.groups.push_back(summary_of(series, bars));
  std::sort(ranking.groups.begin(), ranking.groups.end(), [](const auto& a, const auto& b) {
    return a.mean > b.mean;
  });
  const char* letters[] = {"a", "ab", "b", "c", "c"};
  const double best[] = {0.89, 0.1, 0.01, 0.0, 0.0};
  for (std::size_t i = 0; i < ranking.groups.size(); ++i) {
    ranking.groups[i].letters = letters[i];
    ranking.groups[i].p_best = best[i];
    ranking.groups[i].rank_probability.assign(ranking.groups.size(), 0.0);
    ranking.groups[i].rank_probability[i] = 1.0;
  }
  for (std::size_t i = 0; i < ranking.groups.size(); ++i) {
    for (std::size_t j = i + 1; j < ranking.groups.size(); ++j) {
      Comparison comparison;
      comparison.first = i;
      comparison.second = j;
      comparison.difference = *ranking.groups[i].mean - *ranking.groups[j].mean;
      comparison.difference_interval = {*comparison.difference - 2.2,
                                        *comparison.difference + 2.2};
      comparison.ratio = *ranking.groups[i].mean / *ranking.groups[j].mean;
      comparison.ratio_interval = {*comparison.ratio - 0.1, *comparison.ratio + 0.1};
      comparison.p_value = j - i == 1 ? 0.08 : 0.0004;
      comparison.p_holm = j - i == 1 ? 0.16 : 0.003;
      comparison.method = "Welch t";
      comparison.verdict =
          j - i == 1 ? (i == 0 ? Verdict::Likely : Verdict::NotResolved) : Verdict::Clear;
      if (comparison.verdict == Verdict::NotResolved) {
        comparison.bars_to_resolve = 14;
        comparison.bars_words = "14 bars a group";
        comparison.equivalent = i == 3;
      }
      ranking.comparisons.push_back(comparison);
    }
  }
  ranking.verdict_sentences = {
      "Toughest: " + ranking.groups[0].name + ", likely ahead of the next.",
      "Second: " + ranking.groups[1].name +
          "; not resolved from the third (about 14 bars a group would tell).",
      "Last: " + ranking.groups.back().name + "."};
  add_effects(ranking);
  ranking.remarks = {
      {"mixed-breaks", Severity::Note, "All counted bars broke completely but one."}};
  series.ranking = ranking;
}

}  // namespace

std::string hostile_name() {
  return "Stärkol <script>alert(\"x\")</script> & 'Söhne' \U0001F528 \u202Erev";
}

SeriesResult invented_series() {
  SeriesResult series;
  series.title = "Invented filaments, “notch A” & <b>friends</b>";
  series.folder = "invented";
  series.geometry_words = "Bars made like ISO 179-1/1eA: 80 × 10 × 4 mm, notch A, edgewise.";
  series.rendered_or_invented = true;
  series.rigs = {invented_rig()};
  const std::vector<GroupSpec> specs = {
      {"Korvel", "as-made", "flat", {71.2, 70.1, 72.9, 69.4, 71.8}},
      {"Korvel", "annealed", "flat", {55.3, 57.0, 52.8, 54.1}},
      {"Brunal 3", "as-made", "on-edge", {94.6, 96.2, 95.1, 97.3, 95.8}},
      {hostile_name(), "dried", "flat", {58.9, 60.4, 59.2}},
      {"Tessit", "", "", {90.5, 92.9, 91.7}}};
  std::vector<std::vector<std::size_t>> members;
  for (const GroupSpec& spec : specs) {
    members.emplace_back();
    const std::string stem = std::string(1, static_cast<char>('A' + members.size() - 1));
    for (std::size_t i = 0; i < spec.rise_deg.size(); ++i) {
      const std::string id = stem + std::to_string(i + 1);
      members.back().push_back(series.bars.size());
      series.bars.push_back(filmed_bar(spec, id, spec.rise_deg[i], i == 1));
      series.bars.back().specimen.row = static_cast<int>(series.bars.size()) + 1;
    }
  }
  BarResult& unbroken = series.bars[6];
  unbroken.bar.limit = Limit::Above;
  unbroken.bar.break_type = BreakType::NonBreak;
  unbroken.swing->measurement.outcome = Outcome::NotBroken;
  unbroken.swing->measurement.censoring = Censoring::Right;
  unbroken.swing->measurement.remarks = {
      {"not-broken",
       Severity::Warning,
       "The bar stopped the hammer; it took more than the energy available."}};
  series.bars[3].bar.left_out = true;
  series.bars[3].bar.left_out_reason = "void in the section, seen on the photograph";
  BarResult& failed = series.bars[12];
  failed.swing.reset();
  failed.bar.energy_J.reset();
  failed.bar.strength_kJ_m2.reset();
  failed.problem =
      BarProblem{"clip-ends-early",
                 "clips/C4.mp4: found the clip ending 0.08 s after the blow; wanted the first "
                 "turning point. Film until the arm hangs still."};
  series.bars[14].bar.id = series.bars[14].specimen.id = hostile_name();
  for (std::size_t i = 17; i < 20; ++i) {  // typed values of another instrument
    series.bars[i].swing.reset();
    series.bars[i].specimen.clip.clear();
    series.bars[i].specimen.note = "=1+1 from the old machine";
  }
  add_ranking(series, members);
  series.remarks = {{"one-rig", Severity::Note, "All bars were broken on one instrument."}};
  return series;
}

}  // namespace swingloss::test
