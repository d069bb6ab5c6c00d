// SPDX-License-Identifier: Apache-2.0
// Rendered clips with known truth, one kind of trouble at a time: how far release, rise and
// absorbed energy are off, and how that compares with the stated uncertainty. Prints a table,
// a line a kind; "refused" counts clips not answered (cause below the table). "Frame" is the
// scatter of single frames' angles about the truth over the Cramér-Rao limit of their pixels.
// At the end all clips together. What measuring costs: swing_cost.
//
//   swing_accuracy [CLIPS_A_KIND] [KIND]...     3 clips of every kind when left out
#include "core/angle.h"
#include "core/median.h"
#include "render/render_swing.h"
#include "series/measure_clip.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <functional>
#include <string>
#include <vector>

using namespace swingloss;

namespace {

/// One kind of footage: what sets it apart from the usual scene.
struct Kind {
  const char* name;
  std::function<void(RenderScene&)> change;
};

const std::vector<Kind>& kinds() {
  static const std::vector<Kind> list = {
      {"plain", [](RenderScene&) {}},
      {"square-on", [](RenderScene& s) { s.camera.yaw_deg = s.camera.pitch_deg = 0.0; }},
      {"yaw-8", [](RenderScene& s) { s.camera.yaw_deg = 8.0; }},
      {"yaw-12-pitch-6",
       [](RenderScene& s) { s.camera.yaw_deg = 12.0, s.camera.pitch_deg = -6.0; }},
      {"yaw-30", [](RenderScene& s) { s.camera.yaw_deg = 30.0; }},
      {"dots", [](RenderScene& s) { s.stickers = true; }},
      {"tag", [](RenderScene& s) { s.tag = true; }},
      {"30-a-second", [](RenderScene& s) { s.camera.rate_per_s = 30.0; }},
      {"240-a-second", [](RenderScene& s) { s.camera.rate_per_s = 240.0; }},
      {"blur-12ms", [](RenderScene& s) { s.camera.exposure_s = 0.012; }},
      {"dark", [](RenderScene& s) { s.faults.brightness = 0.15; }},
      {"heavy-coding", [](RenderScene& s) { s.camera.quality = 38; }},
      {"1280x720", [](RenderScene& s) { s.camera.width_px = 1280, s.camera.height_px = 720; }},
      {"1920x1080",
       [](RenderScene& s) { s.camera.width_px = 1920, s.camera.height_px = 1080; }},
      {"3840x2160",
       [](RenderScene& s) { s.camera.width_px = 3840, s.camera.height_px = 2160; }},
      {"480x270", [](RenderScene& s) { s.camera.width_px = 480, s.camera.height_px = 270; }},
      {"uneven-time", [](RenderScene& s) { s.camera.uneven_time = true; }},
      {"mirrored", [](RenderScene& s) { s.camera.mirrored = true; }},
      {"turned", [](RenderScene& s) { s.camera.rotation_deg = 90; }},
      {"narrow-pixels", [](RenderScene& s) { s.camera.pixel_aspect_ratio = 1.5; }},
      {"lens", [](RenderScene& s) { s.camera.lens_k1 = -0.08; }},
      {"rolling-20ms", [](RenderScene& s) { s.faults.readout_s = 0.020; }},
      {"interlaced", [](RenderScene& s) { s.faults.interlaced = true; }},
      {"not-marked-so", [](RenderScene& s) { s.faults.interlaced = s.faults.unmarked = true; }},
      {"slow-motion-8",
       [](RenderScene& s) { s.camera.rate_per_s = 240.0, s.faults.capture_rate_ratio = 8.0; }},
      {"drag-pointer", [](RenderScene& s) { s.faults.drag_pointer = true; }},
      {"upright-like-arm", [](RenderScene& s) { s.faults.upright_like_arm = true; }},
      {"hand", [](RenderScene& s) { s.faults.hand = true; }},
      {"light-drifts", [](RenderScene& s) { s.faults.exposure_drift_fraction = 0.3; }},
      {"light-flickers",
       [](RenderScene& s) {
         s.camera.rate_per_s = 240.0, s.camera.exposure_s = 0.002, s.faults.readout_s = 0.008,
         s.faults.flicker_fraction = 0.3;
       }},
      {"shake", [](RenderScene& s) { s.faults.shake_deg = 0.15; }},
      {"arm-leaves-top", [](RenderScene& s) { s.camera.aim_y_m = -0.22; }},
      {"arm-half-outside", [](RenderScene& s) { s.camera.aim_y_m = -0.31; }},
      {"not-broken", [](RenderScene& s) { s.breaks = false; }},
      {"free-swing", [](RenderScene& s) { s.absorbed_J.reset(), s.length_s = 4.5; }},
      {"two-blows", [](RenderScene& s) {
         s.further.push_back({125.0, 0.5, true, 2.2});
       }}};
  return list;
}

RenderScene scene_of(const Kind& kind, int clip) {
  RenderScene scene;
  scene.seed = 100 + std::uint64_t(clip);
  scene.release_deg = 118.0 + 4.0 * clip;
  scene.absorbed_J = 0.5 + 0.35 * clip;
  scene.camera.yaw_deg = 2.0 - 2.5 * clip;
  scene.length_s = 2.2;
  kind.change(scene);
  return scene;
}

/// The rig as its owner knows it: exact, so that what is off is the clip's doing.
Pendulum pendulum_of(const RenderRig& rig) {
  const auto near = [](double value, const char* source) {
    return Uncertain::from(value, 1e-4 * value, source, SourceKind::Shared);
  };
  Pendulum p;
  p.moment_Nm = Uncertain::exact(rig.moment_Nm);
  p.reduced_length_m = near(rig.reduced_length_m, "rig.reduced-length");
  p.gravity_m_per_s2 = Uncertain::exact(rig.gravity_m_per_s2);
  p.strike_radius_m = near(rig.reduced_length_m, "rig.strike-radius");
  p.friction = FrictionModel{near(rig.dry_Nm, "rig.friction-dry"),
                             Uncertain::exact(0.0),
                             near(rig.quadratic_Nms2, "rig.friction-quadratic")};
  return p;
}

/// Errors of one quantity over the clips of a kind.
struct Errors {
  std::vector<double> off, u;
  void add(const std::optional<Uncertain>& found, double truth, double unit) {
    if (!found) return;
    off.push_back((found->value() - truth) / unit);
    u.push_back(found->u() / unit);
  }
  [[nodiscard]] std::string text() const {
    if (off.empty()) return "–";
    double worst = 0.0;
    for (double each : off) {
      if (std::abs(each) > std::abs(worst)) worst = each;
    }
    char words[64];
    std::snprintf(words, sizeof words, "%+.2f (%.1f)", worst, rms_score());
    return words;
  }
  /// Root mean square of error / u; of one or more.
  [[nodiscard]] double rms_score() const {
    double squares = 0.0;
    for (std::size_t i = 0; i < off.size(); ++i) squares += std::pow(off[i] / u[i], 2);
    return std::sqrt(squares / double(off.size()));
  }
};

/// Scatter of single frames about the truth in degrees, from second differences over three
/// frames in a row: what changes slowly along the swing is no scatter. \param sign  of the
/// truth's angles
double frame_scatter_deg(const AngleTrack& track, const RenderTruth& truth, double sign) {
  std::vector<double> second;
  const std::vector<AngleSample>& s = track.samples;
  const auto off_deg = [&](std::size_t i) {
    return Angle::from_rad(s[i].theta_rad).deg() -
           sign * truth.frame_angle_deg[std::size_t(s[i].frame)];
  };
  for (std::size_t i = 2; i < s.size(); ++i) {
    if (s[i].frame != s[i - 2].frame + 2) continue;
    second.push_back(std::abs(off_deg(i) - 2.0 * off_deg(i - 1) + off_deg(i - 2)));
  }
  // Of normal errors: the second difference has sqrt 6 of their deviation, its median size is
  // 0.6745 of its own.
  return median_of(std::move(second)) / 0.6745 / std::sqrt(6.0);
}

/// That over the limit of the same frames.
double scatter_over_limit(const ArmTrack& arm, const RenderTruth& truth) {
  const double scatter_deg = std::min(frame_scatter_deg(arm.angles, truth, 1.0),
                                      frame_scatter_deg(arm.angles, truth, -1.0));
  return scatter_deg / Angle::from_rad(median_of(arm.pixel_limit_rad)).deg();
}

struct Tally {
  int clips = 0, right = 0, refused = 0;
  Errors release, rise, energy;
  std::vector<double> frame_ratio;
  std::vector<std::string> causes;
};

const char* outcome_of(const RenderScene& scene) {
  if (!scene.absorbed_J) return "free-swing";
  return scene.breaks ? "broken" : "not-broken";
}

void measure_one(const Kind& kind, int clip, const std::string& path, Tally& tally) {
  const RenderScene scene = scene_of(kind, clip);
  const RenderTruth truth = render_swing(scene, path);
  const Pendulum pendulum = pendulum_of(scene.rig);
  const SwingRecord record = measure_clip(path, kind.name, &pendulum);
  ++tally.clips;
  const SwingMeasurement& m = record.measurement;
  if (!answers(record, true)) {
    ++tally.refused;
    tally.causes.push_back(std::string(kind.name) + ": " + cause_of_absence(record));
    return;
  }
  tally.frame_ratio.push_back(scatter_over_limit(record.arm, truth));
  tally.right += name_of(m.outcome) == std::string(outcome_of(scene)) ? 1 : 0;
  const double degree_rad = Angle::from_deg(1.0).rad();
  tally.release.add(m.release_angle_rad, truth.release_deg * degree_rad, degree_rad);
  tally.rise.add(m.rise_angle_rad, truth.rise_deg * degree_rad, degree_rad);
  if (!truth.absorbed_J) return;
  const double released_J =
      scene.rig.moment_Nm * (1.0 - std::cos(truth.release_deg * degree_rad));
  tally.energy.add(m.absorbed_J, *truth.absorbed_J, 0.01 * released_J);
}

void print(const Kind& kind, const Tally& tally) {
  std::printf("| %-16s | %d of %d | %d | %s | %s | %s | %.1f |\n",
              kind.name,
              tally.right,
              tally.clips,
              tally.refused,
              tally.release.text().c_str(),
              tally.rise.text().c_str(),
              tally.energy.text().c_str(),
              median_of(tally.frame_ratio));
  std::fflush(stdout);
}

/// All clips of all kinds, a line a quantity.
void print_summary(const char* name, const char* unit, const Errors& e) {
  if (e.off.empty()) return;
  const auto n = double(e.off.size());
  double sum = 0.0, squares = 0.0, covered = 0.0;
  for (std::size_t i = 0; i < e.off.size(); ++i) {
    sum += e.off[i];
    squares += e.off[i] * e.off[i];
    // 1.96 u hold 95 in 100 of normal errors.
    covered += std::abs(e.off[i]) <= 1.96 * e.u[i] ? 1.0 : 0.0;
  }
  const double bias = sum / n;
  std::printf("| %s, %s | %.0f | %+.3f | %.3f | %.2f | %.0f %% |\n",
              name,
              unit,
              n,
              bias,
              std::sqrt(std::max(0.0, squares / n - bias * bias)),
              e.rms_score(),
              100.0 * covered / n);
}

void add_all(const Errors& from, Errors& to) {
  to.off.insert(to.off.end(), from.off.begin(), from.off.end());
  to.u.insert(to.u.end(), from.u.begin(), from.u.end());
}

bool wanted(const Kind& kind, int argc, char** argv) {
  return argc < 3 || std::any_of(argv + 2, argv + argc, [&](const char* name) {
           return std::string(name) == kind.name;
         });
}

}  // namespace

int main(int argc, char** argv) {
  const int clips = argc > 1 ? std::max(1, std::atoi(argv[1])) : 3;
  const std::filesystem::path folder =
      std::filesystem::temp_directory_path() / "swing-accuracy";
  std::filesystem::create_directories(folder);
  std::puts(
      "Rendered clips. Worst error, in brackets root mean square of error / u; angles in "
      "degrees,\nenergy in % of the release energy.\n\n"
      "| kind | outcome right | refused | release | rise | energy | frame |\n"
      "| --- | --- | --- | --- | --- | --- | --- |");
  std::vector<std::string> causes;
  Errors release, rise, energy;
  for (const Kind& kind : kinds()) {
    if (!wanted(kind, argc, argv)) continue;
    Tally tally;
    for (int clip = 0; clip < clips; ++clip)
      measure_one(kind, clip, (folder / (std::string(kind.name) + ".mp4")).string(), tally);
    print(kind, tally);
    add_all(tally.release, release);
    add_all(tally.rise, rise);
    add_all(tally.energy, energy);
    causes.insert(causes.end(), tally.causes.begin(), tally.causes.end());
  }
  std::puts(
      "\n| all kinds | clips | bias | scatter | rms of error / u | in 95 % interval |\n"
      "| --- | --- | --- | --- | --- | --- |");
  print_summary("release", "degrees", release);
  print_summary("rise", "degrees", rise);
  print_summary("energy", "% of the release energy", energy);
  std::puts("");
  for (const std::string& cause : causes) std::puts(cause.c_str());
  std::filesystem::remove_all(folder);
  return 0;
}
