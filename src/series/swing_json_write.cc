// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "series/swing_json.h"

#include <array>
#include <charconv>
#include <cmath>

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::ordered_json;

constexpr double kDeg = 180.0 / kPi;

double rounded(double x) {
  std::array<char, 40> text{};
  const auto end = std::to_chars(
      text.data(), text.data() + text.size(), x, std::chars_format::scientific, 9);
  double result = x;
  std::from_chars(text.data(), end.ptr, result);
  return result == 0.0 ? 0.0 : result;
}

/// A number, or null for what is no number.
Json number(double x) { return std::isfinite(x) ? Json(rounded(x)) : Json(nullptr); }

Json optional_number(const std::optional<double>& x) { return x ? number(*x) : Json(nullptr); }

Json numbers(const std::vector<double>& values, double scale = 1.0) {
  Json list = Json::array();
  for (const double x : values) list.push_back(number(scale * x));
  return list;
}

Json parts_of(const Uncertain& x, double scale, const std::string& unit) {
  Json list = Json::array();
  for (const Contribution& part : x.parts()) {
    Json entry = {{"source", part.source},
                  {"kind", part.kind == SourceKind::Shared ? "shared" : "own"},
                  {"u_" + unit, number(scale * part.signed_u)}};
    if (std::isfinite(part.degrees_of_freedom)) {
      entry["degrees_of_freedom"] = number(part.degrees_of_freedom);
    }
    list.push_back(std::move(entry));
  }
  return list;
}

/// u as the rounded parts make it, so that whoever reads them finds the same.
Json value_and_u(const Uncertain& x, double scale) {
  double squares = 0.0;
  for (const Contribution& part : x.parts()) {
    squares += std::pow(rounded(scale * part.signed_u), 2);
  }
  return {{"value", number(scale * x.value())}, {"u", number(std::sqrt(squares))}};
}

Json uncertain(const std::optional<Uncertain>& x, const std::string& unit, double scale = 1.0) {
  if (!x) return nullptr;
  Json entry = value_and_u(*x, scale);
  entry["parts"] = parts_of(*x, scale, unit);
  return entry;
}

void add_energies(Json& root, const SwingMeasurement& m) {
  root["absorbed_J"] = nullptr;
  if (m.absorbed_J) {
    root["absorbed_J"] = value_and_u(*m.absorbed_J, 1.0);
    root["absorbed_J"]["censored"] =
        m.censoring == Censoring::Right ? Json("right") : Json(nullptr);
  }
  root["raw_absorbed_J"] = uncertain(m.raw_absorbed_J, "J");
  root["friction_J"] = uncertain(m.friction_J, "J");
  root["friction_swept_J"] = uncertain(m.friction_swept_J, "J");
  root["impact_speed_m_s"] = uncertain(m.impact_speed_m_per_s, "m_s");
  root["textbook_speed_m_s"] = optional_number(m.textbook_speed_m_per_s);
  root["speed_drop_check"] = nullptr;
  if (m.speed_drop) {
    root["speed_drop_check"] = {{"absorbed_J", uncertain(m.speed_drop->absorbed_J, "J")},
                                {"agrees", m.speed_drop->agrees}};
  }
  root["parts"] = m.absorbed_J ? parts_of(*m.absorbed_J, 1.0, "J") : Json::array();
}

void add_physics(Json& root, const SwingMeasurement& m) {
  root["natural_rad_s"] = uncertain(m.natural_rad_per_s, "rad_s");
  root["friction_model"] = nullptr;
  if (m.friction_fitted) {
    root["friction_model"] = {
        {"dry_Nm", uncertain(m.friction_fitted->dry_Nm, "Nm")},
        {"linear_Nms", uncertain(m.friction_fitted->linear_Nms, "Nms")},
        {"quadratic_Nms2", uncertain(m.friction_fitted->quadratic_Nms2, "Nms2")}};
  }
  root["events"] = {{"release_s", optional_number(m.events.release_s)},
                    {"blow_s", optional_number(m.events.blow_s)},
                    {"turn_s", optional_number(m.events.turn_s)}};
  root["fit"] = {{"scatter_in_u", number(m.fit_scatter_in_u)},
                 {"time_jitter_s", number(m.time_jitter_s)},
                 {"residual_inefficiency", number(m.residual_inefficiency)},
                 {"t_s", numbers(m.curve.t_s)},
                 {"angle_deg", numbers(m.curve.theta_rad, kDeg)},
                 {"residual_deg", numbers(m.curve.residual_rad, kDeg)},
                 {"used_samples", m.curve.used_samples}};
}

Json term_of(const Uncertain& value, const TermEvidence& evidence) {
  return {{"value", uncertain(value, "value")},
          {"supported", evidence.supported},
          {"t_ratio", number(evidence.t_ratio)},
          {"bic_gain", number(evidence.bic_gain)},
          {"likelihood_ratio", number(evidence.likelihood_ratio)},
          {"chance", number(evidence.chance)}};
}

Json decay_of(const std::optional<DecayRecord>& record) {
  if (!record) return nullptr;
  const FreeDecay& d = record->decay;
  return {{"half_swings", d.half_swings},
          {"first_amplitude_deg", number(kDeg * d.first_amplitude_rad)},
          {"last_amplitude_deg", number(kDeg * d.last_amplitude_rad)},
          {"natural_rad_s", uncertain(d.natural_rad_per_s, "rad_s")},
          {"reduced_length_m", uncertain(record->reduced_length_m, "m")},
          {"gravity_assumed", record->gravity_assumed},
          {"zero_deg", uncertain(d.zero_rad, "deg", kDeg)},
          {"loss_over_moment",
           {{"dry", term_of(d.law.dry, d.dry)},
            {"linear", term_of(d.law.linear, d.linear)},
            {"quadratic", term_of(d.law.quadratic, d.quadratic)}}},
          {"first_loss_fraction", uncertain(d.first_loss_fraction, "fraction")},
          {"stopped_s", optional_number(d.stopped_s)},
          {"rest_off_zero_deg",
           d.rest_off_zero_rad ? number(kDeg * *d.rest_off_zero_rad) : Json(nullptr)},
          {"residuals",
           {{"rms_deg", number(kDeg * d.scatter_rad)},
            {"largest_deg", number(kDeg * d.largest_residual_rad)},
            {"neighbour_correlation", number(d.residual_correlation)},
            {"scatter_in_u", number(d.scatter_in_u)},
            {"inefficiency", number(d.inefficiency)},
            {"t_s", numbers(d.t_s)},
            {"angle_deg", numbers(d.theta_rad, kDeg)},
            {"residual_deg", numbers(d.residual_rad, kDeg)}}}};
}

Json view_numbers(const ViewVector& view) {
  const ViewVector written = view_units().cwiseProduct(view);
  return numbers({written.begin(), written.end()});
}

/// Rows of a symmetrical matrix.
Json view_rest_of(const ArmTrack& arm) {
  Json rows = Json::array();
  for (Eigen::Index i = 0; i < arm.view_rest.rows(); ++i)
    rows.push_back(view_numbers(view_units()[i] * arm.view_rest.row(i).transpose()));
  return rows;
}

Json doubts_of(const SwingRecord& record) {
  Json list = Json::array();
  const auto& scores = record.measurement.doubt_scores;
  for (std::size_t k = 0; k < record.arm.angles.doubts.size(); ++k) {
    const SharedDoubt& doubt = record.arm.angles.doubts[k];
    const std::vector<double> shape(doubt.shape_rad.begin(), doubt.shape_rad.end());
    std::optional<Uncertain> score;
    if (k < scores.size()) score = scores[k];
    list.push_back({{"source", doubt.source},
                    {"family", doubt.family},
                    {"view", view_numbers(doubt.view)},
                    {"score", uncertain(score, "score")},
                    {"shape_deg", numbers(shape, kDeg)}});
  }
  return list;
}

Json track_of(const SwingRecord& record) {
  Json track = {{"direction", direction_of(record) < 0.0 ? -1 : 1},
                {"u_place_deg", number(kDeg * record.arm.angles.u_place_rad)}};
  for (const char* name : {"t_s", "angle_deg", "u_deg", "frame"}) track[name] = Json::array();
  const std::vector<AngleSample>& samples = record.arm.angles.samples;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    track["t_s"].push_back(number(samples[i].t_s));
    track["angle_deg"].push_back(number(kDeg * angle_from_rest_rad(record, i)));
    track["u_deg"].push_back(number(kDeg * samples[i].u_rad));
    track["frame"].push_back(samples[i].frame);
  }
  track["doubts"] = doubts_of(record);
  return track;
}

Json view_of(const ArmTrack& arm) {
  const double tilt_rad = arm.view.off_square_rad();
  return {
      {"pivot_px", {number(arm.view.axle_px.x()), number(arm.view.axle_px.y())}},
      {"tilt_deg", {{"value", number(kDeg * tilt_rad)}, {"u", number(kDeg * arm.tilt_u_rad)}}},
      {"mode", name_of(arm.mode)},
      {"why_mode", arm.why_mode},
      {"tilt_x_deg", number(kDeg * arm.view.tilt_x_rad)},
      {"tilt_y_deg", number(kDeg * arm.view.tilt_y_rad)},
      {"rest", view_rest_of(arm)},
      {"focal_px", number(arm.view.focal_px)},
      {"principal_px", {number(arm.view.principal_px.x()), number(arm.view.principal_px.y())}},
      {"arm_length_px", number(arm.arm_length_px)},
      {"exposure_s", number(arm.exposure_s)},
      {"readout_s", {{"value", number(arm.view.readout_s)}, {"u", number(arm.u_readout_s)}}}};
}

Json picture_of(const ClipInfo& clip) {
  return {{"width_px", clip.width_px},
          {"height_px", clip.height_px},
          {"nominal_rate_per_s", number(clip.nominal_rate_per_s)},
          {"rotation_deg", clip.rotation_deg},
          {"pixel_aspect_ratio", number(clip.pixel_aspect_ratio)},
          {"expected_frames", clip.expected_frames},
          {"codec", clip.codec},
          {"container", clip.container}};
}

void add_remarks(Json& list, const Remarks& remarks, const char* about) {
  for (const Remark& remark : remarks) {
    list.push_back({{"code", remark.code},
                    {"severity", name_of(remark.severity)},
                    {"text", remark.text},
                    {"about", about}});
  }
}

Json head_of(const SwingRecord& record) {
  const bool stamps = record.arm.clip.time_source == TimeSource::TimeStamps;
  return {{"format", "swingloss/swing/1"},
          {"clip", record.clip},
          {"frames", record.arm.frames},
          {"time",
           {{"source", stamps ? "pts" : "nominal"},
            {"capture_rate_ratio", number(record.measurement.capture_rate_ratio)}}},
          {"outcome", name_of(record.measurement.outcome)},
          {"release_angle_deg", uncertain(record.measurement.release_angle_rad, "deg", kDeg)},
          {"rise_angle_deg", uncertain(record.measurement.rise_angle_rad, "deg", kDeg)},
          {"rest_angle_image_deg", uncertain(record.measurement.zero_rad, "deg", kDeg)}};
}

/// One line a field: short enough to read, and a difference of two files shows the field.
std::string one_line_a_field(const Json& root) {
  std::string text = "{";
  for (const auto& [key, value] : root.items()) {
    text += (text.size() > 1 ? ",\n  \"" : "\n  \"") + key +
            "\": " + value.dump(-1, ' ', false, Json::error_handler_t::replace);
  }
  return text + "\n}\n";
}

Json root_of(const SwingRecord& record, const std::string& inputs) {
  Json root = head_of(record);
  add_energies(root, record.measurement);
  add_physics(root, record.measurement);
  root["decay"] = decay_of(record.decay);
  root["track"] = track_of(record);
  root["view"] = record.typed_track ? Json(nullptr) : view_of(record.arm);
  root["picture"] = record.typed_track ? Json(nullptr) : picture_of(record.arm.clip);
  root["remarks"] = Json::array();
  add_remarks(root["remarks"], record.arm.remarks, "picture");
  add_remarks(root["remarks"], record.measurement.remarks, "swing");
  if (!inputs.empty()) root["inputs"] = inputs;
  return root;
}

}  // namespace

const char* name_of(TrackMode mode) {
  switch (mode) {
    case TrackMode::Bare:
      return "bare";
    case TrackMode::Dots:
      return "dots";
    case TrackMode::Sticker:
      return "sticker";
  }
  return "bare";
}

ViewVector view_units() {
  ViewVector units;
  units << 1.0, 1.0, kDeg, kDeg, 1.0;
  return units;
}

std::string swing_json(const SwingRecord& record, const std::string& inputs) {
  return one_line_a_field(root_of(record, inputs));
}

std::string swings_json(const std::vector<SwingRecord>& records) {
  Json root = {{"format", "swingloss/swings/1"},
               {"clip", records.empty() ? "" : records.front().clip},
               {"swings", Json::array()}};
  for (const SwingRecord& record : records) root["swings"].push_back(root_of(record, ""));
  return one_line_a_field(root);
}

}  // namespace swingloss
