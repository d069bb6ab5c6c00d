// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/input_error.h"
#include "series/swing_json.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::json;

constexpr double kRad = kPi / 180.0;

/// The enumerator of `all` that files spell `word`.
template <typename Enum, std::size_t n, typename Name>
Enum spelt(const std::string& word, const std::array<Enum, n>& all, Name name) {
  const auto found =
      std::find_if(all.begin(), all.end(), [&](Enum each) { return word == name(each); });
  if (found == all.end()) throw std::out_of_range("unknown word " + word);
  return *found;
}

std::optional<double> optional_number(const Json& field) {
  return field.is_null() ? std::nullopt : std::optional(field.get<double>());
}

std::vector<double> numbers(const Json& field, double scale = 1.0) {
  auto values = field.get<std::vector<double>>();
  for (double& x : values) x *= scale;
  return values;
}

/// Value and signed parts, whose u is then recomputed and not read.
Uncertain uncertain(const Json& field,
                    const Json& parts,
                    const std::string& unit,
                    double scale) {
  std::vector<Uncertain> doubts;
  doubts.reserve(parts.size());
  std::vector<std::pair<double, const Uncertain*>> sum;
  for (const Json& part : parts) {
    const double u = scale * part.at("u_" + unit).get<double>();
    const auto kind = part.at("kind") == "shared" ? SourceKind::Shared : SourceKind::Own;
    const double freedom = part.value("degrees_of_freedom", HUGE_VAL);
    doubts.push_back(
        Uncertain::from(0.0, std::abs(u), part.at("source").get<std::string>(), kind, freedom));
    sum.emplace_back(u < 0.0 ? -1.0 : 1.0, &doubts.back());
  }
  return Uncertain::combine(scale * field.at("value").get<double>(), sum);
}

std::optional<Uncertain> optional_uncertain(const Json& field,
                                            const std::string& unit,
                                            double scale = 1.0) {
  if (field.is_null()) return {};
  return uncertain(field, field.at("parts"), unit, scale);
}

void read_energies(SwingMeasurement& m, const Json& root) {
  const Json& absorbed = root.at("absorbed_J");
  if (!absorbed.is_null()) {
    m.absorbed_J = uncertain(absorbed, root.at("parts"), "J", 1.0);
    m.censoring = absorbed.at("censored") == "right" ? Censoring::Right : Censoring::None;
  }
  m.raw_absorbed_J = optional_uncertain(root.at("raw_absorbed_J"), "J");
  m.friction_J = optional_uncertain(root.at("friction_J"), "J");
  m.friction_swept_J = optional_uncertain(root.at("friction_swept_J"), "J");
  m.impact_speed_m_per_s = optional_uncertain(root.at("impact_speed_m_s"), "m_s");
  m.textbook_speed_m_per_s = optional_number(root.at("textbook_speed_m_s"));
  const Json& check = root.at("speed_drop_check");
  if (!check.is_null()) {
    const Json& energy = check.at("absorbed_J");
    m.speed_drop = SpeedDropCheck{uncertain(energy, energy.at("parts"), "J", 1.0),
                                  check.at("agrees").get<bool>()};
  }
}

FrictionModel friction_of(const Json& model) {
  const auto term = [&](const char* name, const char* unit) {
    return uncertain(model.at(name), model.at(name).at("parts"), unit, 1.0);
  };
  return {term("dry_Nm", "Nm"), term("linear_Nms", "Nms"), term("quadratic_Nms2", "Nms2")};
}

SwingMeasurement measurement_of(const Json& root) {
  constexpr std::array kOutcomes = {
      Outcome::Broken, Outcome::NotBroken, Outcome::FreeSwing, Outcome::Unclear};
  SwingMeasurement m;
  m.outcome = spelt(
      root.at("outcome").get<std::string>(), kOutcomes, [](Outcome o) { return name_of(o); });
  m.release_angle_rad = optional_uncertain(root.at("release_angle_deg"), "deg", kRad);
  m.rise_angle_rad = optional_uncertain(root.at("rise_angle_deg"), "deg", kRad);
  m.zero_rad = optional_uncertain(root.at("rest_angle_image_deg"), "deg", kRad);
  m.natural_rad_per_s = optional_uncertain(root.at("natural_rad_s"), "rad_s");
  m.capture_rate_ratio = root.at("time").at("capture_rate_ratio").get<double>();
  read_energies(m, root);
  const Json& model = root.at("friction_model");
  if (!model.is_null()) m.friction_fitted = friction_of(model);
  const Json& events = root.at("events");
  m.events = {optional_number(events.at("release_s")),
              optional_number(events.at("blow_s")),
              optional_number(events.at("turn_s"))};
  const Json& fit = root.at("fit");
  m.fit_scatter_in_u = fit.at("scatter_in_u").get<double>();
  m.time_jitter_s = fit.at("time_jitter_s").get<double>();
  m.residual_inefficiency = fit.at("residual_inefficiency").get<double>();
  m.curve = {numbers(fit.at("t_s")),
             numbers(fit.at("angle_deg"), kRad),
             numbers(fit.at("residual_deg"), kRad),
             fit.at("used_samples").get<std::vector<std::size_t>>()};
  return m;
}

TermEvidence evidence_of(const Json& term) {
  return {term.at("supported").get<bool>(),
          term.at("t_ratio").get<double>(),
          term.at("bic_gain").get<double>(),
          term.at("likelihood_ratio").get<double>(),
          term.at("chance").get<double>()};
}

void read_residuals(FreeDecay& d, const Json& residuals) {
  d.scatter_rad = kRad * residuals.at("rms_deg").get<double>();
  d.largest_residual_rad = kRad * residuals.at("largest_deg").get<double>();
  d.residual_correlation = residuals.at("neighbour_correlation").get<double>();
  d.scatter_in_u = residuals.at("scatter_in_u").get<double>();
  d.inefficiency = residuals.at("inefficiency").get<double>();
  d.t_s = numbers(residuals.at("t_s"));
  d.theta_rad = numbers(residuals.at("angle_deg"), kRad);
  d.residual_rad = numbers(residuals.at("residual_deg"), kRad);
}

DecayRecord decay_of(const Json& root) {
  const auto with_parts = [](const Json& field, const char* unit, double scale = 1.0) {
    return uncertain(field, field.at("parts"), unit, scale);
  };
  DecayRecord record;
  FreeDecay& d = record.decay;
  d.half_swings = root.at("half_swings").get<int>();
  d.first_amplitude_rad = kRad * root.at("first_amplitude_deg").get<double>();
  d.last_amplitude_rad = kRad * root.at("last_amplitude_deg").get<double>();
  d.natural_rad_per_s = with_parts(root.at("natural_rad_s"), "rad_s");
  record.reduced_length_m = with_parts(root.at("reduced_length_m"), "m");
  record.gravity_assumed = root.at("gravity_assumed").get<bool>();
  d.zero_rad = with_parts(root.at("zero_deg"), "deg", kRad);
  const Json& terms = root.at("loss_over_moment");
  const auto term = [&](const char* name) {
    return with_parts(terms.at(name).at("value"), "value");
  };
  d.law = {term("dry"), term("linear"), term("quadratic")};
  d.dry = evidence_of(terms.at("dry"));
  d.linear = evidence_of(terms.at("linear"));
  d.quadratic = evidence_of(terms.at("quadratic"));
  d.terms = {d.dry.supported, d.linear.supported, d.quadratic.supported};
  d.first_loss_fraction = with_parts(root.at("first_loss_fraction"), "fraction");
  d.stopped_s = optional_number(root.at("stopped_s"));
  d.rest_off_zero_rad = optional_number(root.at("rest_off_zero_deg"));
  if (d.rest_off_zero_rad) *d.rest_off_zero_rad *= kRad;
  read_residuals(d, root.at("residuals"));
  return record;
}

Eigen::Vector2d point_of(const Json& field) {
  return {field.at(0).get<double>(), field.at(1).get<double>()};
}

ViewVector view_of(const Json& field) {
  const std::vector<double> list = numbers(field);
  if (list.size() != 5) throw std::out_of_range("a view without its five numbers");
  return Eigen::Map<const ViewVector>(list.data()).cwiseQuotient(view_units());
}

void read_doubts(SwingRecord& record, const Json& list) {
  for (const Json& doubt : list) {
    const auto shape = numbers(doubt.at("shape_deg"), kRad);
    const auto size = static_cast<Eigen::Index>(shape.size());
    record.arm.angles.doubts.push_back({doubt.at("source").get<std::string>(),
                                        Eigen::Map<const Eigen::VectorXd>(shape.data(), size),
                                        doubt.at("family").get<std::string>(),
                                        view_of(doubt.at("view"))});
    const auto score = optional_uncertain(doubt.at("score"), "score");
    if (score) record.measurement.doubt_scores.push_back(*score);
  }
}

/// Angles from rest back to the track's own, by the zero, direction and doubts already read.
void read_track(SwingRecord& record, const Json& track) {
  record.measurement.direction = track.at("direction").get<double>();
  record.arm.angles.u_place_rad = kRad * track.at("u_place_deg").get<double>();
  const auto t_s = numbers(track.at("t_s"));
  const auto angle_rad = numbers(track.at("angle_deg"), kRad);
  const auto u_rad = numbers(track.at("u_deg"), kRad);
  const auto frame = track.at("frame").get<std::vector<int>>();
  read_doubts(record, track.at("doubts"));
  for (const SharedDoubt& doubt : record.arm.angles.doubts) {
    if (doubt.shape_rad.size() != static_cast<Eigen::Index>(t_s.size()))
      throw std::out_of_range("a doubt without one entry a sample");
  }
  const double zero_rad =
      record.measurement.zero_rad ? record.measurement.zero_rad->value() : 0.0;
  for (std::size_t i = 0; i < t_s.size(); ++i) {
    const double theta_rad =
        zero_rad + direction_of(record) * angle_rad.at(i) + doubt_shift_rad(record, i);
    record.arm.angles.samples.push_back({t_s[i], theta_rad, u_rad.at(i), frame.at(i)});
  }
}

void read_view(ArmTrack& arm, const Json& view) {
  constexpr std::array kModes = {TrackMode::Bare, TrackMode::Dots, TrackMode::Sticker};
  arm.view.axle_px = point_of(view.at("pivot_px"));
  arm.view.tilt_x_rad = kRad * view.at("tilt_x_deg").get<double>();
  arm.view.tilt_y_rad = kRad * view.at("tilt_y_deg").get<double>();
  arm.view.focal_px = view.at("focal_px").get<double>();
  arm.view.principal_px = point_of(view.at("principal_px"));
  arm.tilt_u_rad = kRad * view.at("tilt_deg").at("u").get<double>();
  for (Eigen::Index i = 0; i < arm.view_rest.rows(); ++i)
    arm.view_rest.row(i) =
        view_of(view.at("rest").at(static_cast<std::size_t>(i))) / view_units()[i];
  const auto mode = view.at("mode").get<std::string>();
  arm.mode = spelt(mode, kModes, [](TrackMode each) { return name_of(each); });
  arm.why_mode = view.at("why_mode").get<std::string>();
  arm.arm_length_px = view.at("arm_length_px").get<double>();
  arm.exposure_s = view.at("exposure_s").get<double>();
  arm.view.readout_s = view.at("readout_s").at("value").get<double>();
  arm.u_readout_s = view.at("readout_s").at("u").get<double>();
}

void read_picture(ClipInfo& clip, const Json& picture) {
  clip.width_px = picture.at("width_px").get<int>();
  clip.height_px = picture.at("height_px").get<int>();
  clip.nominal_rate_per_s = picture.at("nominal_rate_per_s").get<double>();
  clip.rotation_deg = picture.at("rotation_deg").get<int>();
  clip.pixel_aspect_ratio = picture.at("pixel_aspect_ratio").get<double>();
  clip.expected_frames = picture.at("expected_frames").get<int>();
  clip.codec = picture.at("codec").get<std::string>();
  clip.container = picture.at("container").get<std::string>();
}

void read_remarks(SwingRecord& record, const Json& list) {
  constexpr std::array kSeverities = {Severity::Note, Severity::Warning, Severity::Refusal};
  for (const Json& entry : list) {
    const auto severity = spelt(entry.at("severity").get<std::string>(),
                                kSeverities,
                                [](Severity each) { return name_of(each); });
    Remark remark = {
        entry.at("code").get<std::string>(), severity, entry.at("text").get<std::string>()};
    Remarks& home =
        entry.at("about") == "picture" ? record.arm.remarks : record.measurement.remarks;
    home.push_back(std::move(remark));
  }
}

SwingRecord record_of(const Json& root) {
  SwingRecord record;
  record.clip = root.at("clip").get<std::string>();
  record.measurement = measurement_of(root);
  record.arm.frames = root.at("frames").get<int>();
  const Json decay = root.value("decay", Json());
  if (!decay.is_null()) record.decay = decay_of(decay);
  read_track(record, root.at("track"));
  record.typed_track = root.at("view").is_null();
  if (!record.typed_track) {
    read_view(record.arm, root.at("view"));
    read_picture(record.arm.clip, root.at("picture"));
  }
  record.arm.clip.time_source =
      root.at("time").at("source") == "pts" ? TimeSource::TimeStamps : TimeSource::NominalRate;
  read_remarks(record, root.at("remarks"));
  return record;
}

}  // namespace

StoredSwing parse_swing_json(const std::string& text, const std::string& name) {
  const auto refuse = [&](const std::string& found) {
    throw InputError({name,
                      "",
                      found,
                      "a swing result of format swingloss/swing/1",
                      "Measure the clip again to write it anew."});
  };
  try {
    const Json root = Json::parse(text);
    if (root.at("format") != "swingloss/swing/1") refuse("format " + root.at("format").dump());
    return {record_of(root), root.value("inputs", "")};
  } catch (const Json::exception& error) {
    refuse(std::string("a file that is damaged or of another kind (") + error.what() + ")");
  } catch (const std::out_of_range& error) {  // vector::at: lists of unequal length
    refuse(std::string("a file that is damaged (") + error.what() + ")");
  }
  return {};
}

}  // namespace swingloss
