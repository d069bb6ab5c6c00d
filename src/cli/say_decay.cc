// SPDX-License-Identifier: Apache-2.0
#include "cli/say_decay.h"

#include "cli/text_table.h"
#include "core/angle.h"
#include "report/words.h"

namespace swingloss {
namespace {

std::string deg_words(double rad, int digits) {
  return rounded_words(Angle::from_rad(rad).deg(), digits, "°");
}

std::string term_line(const char* name, const Uncertain& value, const TermEvidence& evidence) {
  const std::string chance = p_value_words(evidence.chance);
  if (!evidence.supported) {
    return fact_line(
        name,
        "not needed: with it the fit is no better than chance makes it (p " + chance + ")");
  }
  return fact_line(name,
                   with_u_words(value, "") +
                       " of the moment: needed, without it the fit is worse (2 ln L " +
                       rounded_words(evidence.likelihood_ratio, 2, "") + ", p " + chance + ")");
}

}  // namespace

std::string account_of(const DecayRecord& record) {
  const FreeDecay& d = record.decay;
  const double period_s = 2.0 * kPi / d.natural_rad_per_s.value();
  std::string text = fact_line("free decay",
                               std::to_string(d.half_swings) + " half swings from " +
                                   deg_words(d.first_amplitude_rad, 4) + " to " +
                                   deg_words(d.last_amplitude_rad, 3) + ", " +
                                   rounded_words(d.t_s.front(), 4, "") + " to " +
                                   rounded_words(d.t_s.back(), 4, "s"));
  text += fact_line("centre", angle_words(d.zero_rad) + " in the track's own angles");
  text += fact_line("reduced length",
                    with_u_words(record.reduced_length_m, "m") + " (small swings take " +
                        rounded_words(period_s, 5, "s") +
                        (record.gravity_assumed ? "; gravity assumed, 9.80665 m/s²)" : ")"));
  text += term_line("dry loss", d.law.dry, d.dry);
  text += term_line("linear loss", d.law.linear, d.linear);
  text += term_line("quadratic loss", d.law.quadratic, d.quadratic);
  text += fact_line(
      "loss at first",
      with_u_words(100.0 * d.first_loss_fraction, "%") + " of the energy in one half swing");
  text += fact_line(
      "residuals",
      deg_words(d.scatter_rad, 2) + " rms, " + deg_words(d.largest_residual_rad, 2) +
          " at most; neighbours correlate by " + rounded_words(d.residual_correlation, 2, ""));
  return text;
}

}  // namespace swingloss
