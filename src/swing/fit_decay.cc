// SPDX-License-Identifier: Apache-2.0
#include "swing/fit_decay.h"

#include "core/angle.h"
#include "core/number_text.h"
#include "swing/decay_covariance.h"
#include "swing/decay_stretch.h"
#include "swing/energy.h"
#include "swing/swing_path.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

/// Wide enough to say nothing: a term of 1 stops the arm at once.
constexpr double kAnything = 1.0;

UncertainLaw prior_of(const LossTerms& terms) {
  const auto term = [](bool used, const char* source) {
    return used ? Uncertain::from(0.0, kAnything, source, SourceKind::Own) : Uncertain();
  };
  return {term(terms.dry, "prior.dry"),
          term(terms.linear, "prior.linear"),
          term(terms.quadratic, "prior.quadratic")};
}

/// Sum of squares in units of one noise, wild residuals capped alike for all sets of terms.
double capped_chi2(const DecayStretch& stretch, const Eigen::VectorXd& sigma_rad) {
  double sum = 0.0;
  for (Eigen::Index i = 0; i < sigma_rad.size(); ++i) {
    const double z = stretch.fit.residual_rad[i] / sigma_rad[i];
    sum += std::min(z * z, 25.0);
  }
  return sum;
}

/// All fits of one stretch, by which terms they use; a coarse step is good enough to compare.
class Candidates {
 public:
  Candidates(const DecayStretch& full, double max_step) : full_(full), max_step_(max_step) {
    const double scale = std::max(1.0, full.fit.noise.scale);
    sigma_rad_.resize(full.fit.residual_rad.size());
    for (Eigen::Index i = 0; i < sigma_rad_.size(); ++i) {
      const double u_rad = full.problem.points[static_cast<std::size_t>(i)].u_rad;
      sigma_rad_[i] =
          std::hypot(scale * u_rad, full.fit.noise.jitter_s * full.fit.omega_rad_per_s[i]);
    }
  }

  /// The criterion; infinite when the fit fails.
  double criterion(const LossTerms& terms) {
    const std::array<bool, 3> flags = terms.flags();
    const auto place = static_cast<std::size_t>(flags[0] ? 1 : 0) +
                       static_cast<std::size_t>(flags[1] ? 2 : 0) +
                       static_cast<std::size_t>(flags[2] ? 4 : 0);
    if (!known_[place]) {
      known_[place] = true;
      const std::optional<DecayStretch> fit = refitted(full_, prior_of(terms), max_step_);
      values_[place] = 1e300;
      if (fit) {
        const double lost = full_.fit.inefficiency;
        const double count = static_cast<double>(flags[0]) + static_cast<double>(flags[1]) +
                             static_cast<double>(flags[2]);
        values_[place] = capped_chi2(*fit, sigma_rad_) / lost + count * penalty();
      }
    }
    return values_[place];
  }

  /// What one term costs: the logarithm of the number of independent samples.
  [[nodiscard]] double penalty() const {
    const double effective = static_cast<double>(sigma_rad_.size()) / full_.fit.inefficiency;
    return std::log(std::max(2.0, effective));
  }

  LossTerms best() {
    LossTerms chosen;
    for (int code = 1; code < 8; ++code) {
      const LossTerms terms{(code & 1) != 0, (code & 2) != 0, (code & 4) != 0};
      if (criterion(terms) < criterion(chosen)) chosen = terms;
    }
    return chosen;
  }

 private:
  const DecayStretch& full_;
  double max_step_ = 0.0;
  Eigen::VectorXd sigma_rad_;
  std::array<bool, 8> known_{};
  std::array<double, 8> values_{};
};

TermEvidence evidence_of(const Uncertain& term,
                         Candidates& candidates,
                         const LossTerms& with,
                         const LossTerms& without,
                         bool supported) {
  TermEvidence evidence;
  evidence.supported = supported;
  evidence.bic_gain = candidates.criterion(without) - candidates.criterion(with);
  evidence.likelihood_ratio = std::max(0.0, evidence.bic_gain + candidates.penalty());
  evidence.chance = 0.5 * std::erfc(std::sqrt(0.5 * evidence.likelihood_ratio));
  if (supported && term.u() > 0.0) evidence.t_ratio = term.value() / term.u();
  return evidence;
}

void set_evidence(Candidates& candidates, FreeDecay& decay) {
  const LossTerms& t = decay.terms;
  const LossTerms dry{true, t.linear, t.quadratic}, no_dry{false, t.linear, t.quadratic};
  const LossTerms linear{t.dry, true, t.quadratic}, no_linear{t.dry, false, t.quadratic};
  const LossTerms quadratic{t.dry, t.linear, true}, no_quadratic{t.dry, t.linear, false};
  decay.dry = evidence_of(decay.law.dry, candidates, dry, no_dry, t.dry);
  decay.linear = evidence_of(decay.law.linear, candidates, linear, no_linear, t.linear);
  decay.quadratic =
      evidence_of(decay.law.quadratic, candidates, quadratic, no_quadratic, t.quadratic);
}

void set_amplitudes(const DecayStretch& stretch, FreeDecay& decay) {
  const Piece piece = piece_of(stretch.problem, stretch.fit.parameters, 0);
  const double w0 = decay.natural_rad_per_s.value();
  const double last_s = stretch.problem.points.back().t_s;
  PathSpan span;
  span.after = std::max(0.0, (last_s - piece.turn_s) * w0);
  const SwingPath path(piece.amplitude_rad, decay.law.law(), span);
  const std::vector<PathPoint> turns = path.turns_after();
  decay.first_amplitude_rad = std::abs(piece.amplitude_rad);
  decay.half_swings = static_cast<int>(turns.size());
  decay.last_amplitude_rad =
      turns.empty() ? decay.first_amplitude_rad : std::abs(turns.back().theta_rad);
  const Uncertain first = Uncertain::exact(decay.first_amplitude_rad);
  const std::optional<Uncertain> next = free_rise_rad(decay.law, first);
  if (!next) return;
  const double energy = 1.0 - std::cos(decay.first_amplitude_rad);
  decay.first_loss_fraction = raw_absorbed_J(Uncertain::exact(1.0), first, *next) / energy;
}

void set_samples(const DecayStretch& stretch, FreeDecay& decay) {
  double sum = 0.0;
  for (std::size_t i = 0; i < stretch.problem.points.size(); ++i) {
    if (!stretch.fit.used[i]) continue;
    const FitPoint& point = stretch.problem.points[i];
    const double residual_rad = stretch.fit.residual_rad[static_cast<Eigen::Index>(i)];
    decay.t_s.push_back(point.t_s);
    decay.theta_rad.push_back(
        stretch.track.direction *
        (point.theta_rad - stretch.fit.parameters[ParameterPlaces::kZero]));
    decay.residual_rad.push_back(stretch.track.direction * residual_rad);
    sum += residual_rad * residual_rad;
    decay.largest_residual_rad = std::max(decay.largest_residual_rad, std::abs(residual_rad));
  }
  double products = 0.0;
  for (std::size_t i = 1; i < decay.residual_rad.size(); ++i)
    products += decay.residual_rad[i - 1] * decay.residual_rad[i];
  decay.residual_correlation = sum > 0.0 ? products / sum : 0.0;
  decay.scatter_rad = std::sqrt(sum / std::max(1.0, static_cast<double>(decay.t_s.size())));
}

std::string deg_text(double rad) { return significant_text(Angle::from_rad(rad).deg(), 2); }

void add_remarks(FreeDecay& decay) {
  if (decay.stopped_s && decay.terms.dry) {
    decay.remarks.push_back(
        {"stops-dead",
         Severity::Note,
         "The arm comes to a dead stop " + deg_text(std::abs(*decay.rest_off_zero_rad)) +
             " degrees from the centre of its motion, as dry friction makes it: it can hold "
             "the arm within " +
             deg_text(decay.law.dry.value()) + " degrees."});
  }
  if (decay.inefficiency > 5.0 && decay.scatter_in_u > 1.5) {
    decay.remarks.push_back(
        {"residuals-structured",
         Severity::Warning,
         "The residuals (" + deg_text(decay.scatter_rad) +
             " degrees rms) are not noise: the rig loses energy, or its frame moves, in a way "
             "that dry, linear and quadratic loss do not describe. The stated uncertainties "
             "were widened by that."});
  }
}

FreeDecay concluded(const DecayStretch& stretch, const LossTerms& terms) {
  FreeDecay decay;
  const std::vector<Uncertain> values = stretch.fit.uncertain(stretch.problem);
  decay.terms = terms;
  decay.zero_rad = stretch.track.direction * values[ParameterPlaces::kZero];
  decay.natural_rad_per_s = values[ParameterPlaces::kNatural];
  decay.law = {values[ParameterPlaces::kLaw],
               values[ParameterPlaces::kLaw + 1],
               values[ParameterPlaces::kLaw + 2]};
  decay.scatter_in_u = stretch.fit.scatter_in_u;
  decay.inefficiency = stretch.fit.inefficiency;
  decay.remarks = stretch.remarks;
  set_amplitudes(stretch, decay);
  set_samples(stretch, decay);
  if (stretch.rest) {
    decay.stopped_s = stretch.track.samples[stretch.rest->begin].t_s;
    decay.rest_off_zero_rad =
        stretch.track.direction *
        (stretch.rest->theta_rad - stretch.fit.parameters[ParameterPlaces::kZero]);
  }
  return decay;
}

}  // namespace

Result<FreeDecay> fit_decay(const AngleTrack& track, const DecayOptions& options) {
  const LossTerms all;
  Result<DecayStretch> full = decay_stretch(track, prior_of(all), options.max_step_s);
  if (!full.ok()) return full.failure();
  const double max_step =
      std::min(0.02, full.value().problem.natural_rad_per_s * options.max_step_s);
  Candidates candidates(full.value(), std::max(max_step, 0.04));
  const LossTerms terms = options.terms ? *options.terms : candidates.best();
  std::optional<DecayStretch> chosen = refitted(full.value(), prior_of(terms), max_step);
  if (!chosen) {
    return Failure{"fit-failed",
                   "no law of loss fits the free swing",
                   "Look at the track: is it on the arm all the time?"};
  }
  const double w0 = chosen->fit.parameters[ParameterPlaces::kNatural];
  widen_by_periods(chosen->problem, 2.0 * kPi / w0, chosen->fit);
  FreeDecay decay = concluded(*chosen, terms);
  if (decay.half_swings < 3) {
    return Failure{"too-few-swings",
                   "the free swing shows " + std::to_string(decay.half_swings) +
                       " turning points; at least 3 are needed to tell losses",
                   "Film the free swing for at least ten seconds."};
  }
  set_evidence(candidates, decay);
  add_remarks(decay);
  return decay;
}

}  // namespace swingloss
