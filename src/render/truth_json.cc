// SPDX-License-Identifier: Apache-2.0
#include "render/truth_json.h"

#include <iomanip>
#include <sstream>

namespace swingloss {
namespace {

std::string number(double value) {
  std::ostringstream text;
  text << std::setprecision(10) << value;
  return text.str();
}

std::string number_or_null(const std::optional<double>& value) {
  return value ? number(*value) : "null";
}

std::string list(const std::vector<double>& values) {
  std::string text = "[";
  for (const double value : values) text += (text.size() > 1 ? ", " : "") + number(value);
  return text + "]";
}

const char* outcome_of(const RenderSwingTruth& swing, bool had_bar) {
  if (!had_bar) return "free-swing";
  return swing.broken ? "broken" : "not-broken";
}

bool had_bar(const RenderScene& scene, std::size_t swing) {
  if (swing == 0) return scene.absorbed_J.has_value() || !scene.breaks;
  const RenderFurtherSwing& further = scene.further[swing - 1];
  return further.absorbed_J.has_value() || !further.breaks;
}

std::string camera_json(const RenderCamera& camera) {
  return "{\"yaw_deg\": " + number(camera.yaw_deg) +
         ", \"pitch_deg\": " + number(camera.pitch_deg) +
         ", \"roll_deg\": " + number(camera.roll_deg) +
         ", \"distance_m\": " + number(camera.distance_m) +
         ", \"horizontal_field_deg\": " + number(camera.horizontal_field_deg) +
         ", \"rate_per_s\": " + number(camera.rate_per_s) +
         ", \"exposure_s\": " + number(camera.exposure_s) + "}";
}

}  // namespace

std::string rig_truth_json(const RenderRig& rig) {
  return "{\"moment_Nm\": " + number(rig.moment_Nm) +
         ", \"reduced_length_m\": " + number(rig.reduced_length_m) +
         ", \"gravity_m_per_s2\": " + number(rig.gravity_m_per_s2) +
         ", \"dry_Nm\": " + number(rig.dry_Nm) + ", \"linear_Nms\": " + number(rig.linear_Nms) +
         ", \"quadratic_Nms2\": " + number(rig.quadratic_Nms2) + "}";
}

std::string swing_truth_fields(const RenderSwingTruth& swing, bool with_bar) {
  return std::string("\"outcome\": \"") + outcome_of(swing, with_bar) +
         "\", \"absorbed_J\": " + number_or_null(swing.absorbed_J) +
         ", \"release_deg\": " + number(swing.release_deg) +
         ", \"rise_deg\": " + number(swing.rise_deg) +
         ", \"available_J\": " + number(swing.available_J) +
         ", \"friction_J\": " + number(swing.friction_J) +
         ", \"release_s\": " + number(swing.release_s) +
         ", \"blow_s\": " + number_or_null(swing.blow_s) +
         ", \"turn_s\": " + number_or_null(swing.turn_s);
}

std::string clip_truth_json(const RenderScene& scene, const RenderTruth& truth) {
  std::string swings;
  for (std::size_t i = 0; i < truth.swings.size(); ++i) {
    swings += (i == 0 ? "" : ",\n    ") + std::string("{") +
              swing_truth_fields(truth.swings[i], had_bar(scene, i)) + "}";
  }
  return "{\n  \"format\": \"swingloss/clip-truth/1\",\n  " +
         swing_truth_fields(truth.swings.front(), had_bar(scene, 0)) +
         ",\n  \"rig\": " + rig_truth_json(scene.rig) +
         ",\n  \"camera\": " + camera_json(scene.camera) + ",\n  \"swings\": [" + swings +
         "],\n  \"frame_time_s\": " + list(truth.frame_time_s) +
         ",\n  \"frame_stamp_s\": " + list(truth.frame_stamp_s) +
         ",\n  \"frame_angle_deg\": " + list(truth.frame_angle_deg) + "\n}\n";
}

}  // namespace swingloss
