// SPDX-License-Identifier: Apache-2.0
/// \file render_swing.h
/// Rendered footage of a pendulum with known truth, by another route than the trackers assume:
/// solid bodies with depth, a perspective camera, a lamp of finite size, light added up in
/// linear units over the exposure, and a Runge-Kutta integration of the swing.
#pragma once

#include "core/angle.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// The rig that is drawn and swung. The drawing takes its size from the reduced length: the bar
/// is struck at that distance from the axle.
struct RenderRig {
  double moment_Nm = 2.2;             ///< m g L, > 0
  double reduced_length_m = 0.33;     ///< I / (m L), > 0
  double gravity_m_per_s2 = 9.80665;  ///< > 0
  double dry_Nm = 0.004;              ///< loss torque against the motion, >= 0 each
  double linear_Nms = 0.0;
  double quadratic_Nms2 = 0.0006;
};

/// Camera, timing and coding.
///
/// The camera stands `distance_m` from the point it is aimed at (aim_x, aim_y in the plane of
/// swing, axle = origin, x to the release side, y up), seen from there to the right by yaw and
/// above by pitch, and turned by roll so that the picture's content turns clockwise.
struct RenderCamera {
  double yaw_deg = 2.0, pitch_deg = -1.0, roll_deg = 0.5;  ///< off square to the swing
  double distance_m = 1.6, horizontal_field_deg = 50.0;
  double aim_x_m = 0.0, aim_y_m = -0.06;
  double lens_k1 = 0.0;  ///< radial term: r -> r (1 + k1 r^2), r in focal lengths
  int width_px = 960, height_px = 540;  ///< of the stored picture, even
  double rate_per_s = 60.0;             ///< of the capture
  double exposure_s = 0.004;
  double noise_levels = 1.5;   ///< standard deviation of the grey noise, of 255
  int quality = 23;            ///< of the coding: 0 best, 51 worst; 38 is heavy compression
  std::string codec = "h264";  ///< a name that imaging/video_writer.h knows
  bool mirrored = false;       ///< the swing goes the other way in the picture
  bool uneven_time = false;    ///< drops and jitters frames as phones do
  int rotation_deg = 0;        ///< pictures stored turned, with this clockwise turn recorded
  double pixel_aspect_ratio =
      1.0;  ///< pixels stored narrower than they are shown, recorded too
};

/// What makes footage hard. Everything off by default.
struct RenderFaults {
  bool drag_pointer = false;      ///< a needle that the arm carries up and that stays there
  bool upright_like_arm = false;  ///< the upright behind the arm has the arm's colour
  bool hand = false;              ///< a gloved hand holds the hammer and lets go
  double exposure_drift_fraction = 0.0;  ///< brightness grows by this over the clip
  double brightness = 1.0;               ///< 0.12 is a dark room
  double flicker_fraction = 0.0;         ///< the light goes up and down by this, in [0, 1) ...
  double flicker_per_s = 100.0;          ///< ... so often a second: twice the mains frequency
  double shake_deg = 0.0;                ///< rms turn of a hand-held camera about each axis
  double bump_deg = 0.0;                 ///< the camera is knocked aside by this ...
  double bump_at_s = 1.0;                ///< ... at this time
  bool interlaced = false;               ///< even rows first, odd rows half a frame later
  bool unmarked = false;                 ///< ... and the file does not say so
  double readout_s = 0.0;           ///< rolling shutter: from the top row to the bottom row
  double capture_rate_ratio = 1.0;  ///< capture rate / container rate: 8 for 240 shown at 30
  bool no_pendulum = false;         ///< the arm, the bar and the hand are left out
};

/// A further swing in the same recording, after the arm was caught and lifted again.
struct RenderFurtherSwing {
  double release_deg = 125.0;
  std::optional<double> absorbed_J;  ///< nothing: no bar in the vice
  bool breaks = true;
  double length_s = 2.6;  ///< with its hold of `hold_s`; catching and lifting come before
};

/// How the hanging rest at the end comes about.
enum class RenderRest {
  SeparateTake,  ///< cut in: the arm jumps from the swing to hanging still
  Braked,        ///< caught and steadied within the last 1.4 s of `length_s`
};

/// One clip to draw.
struct RenderScene {
  RenderRig rig;
  RenderCamera camera;
  RenderFaults faults;
  double release_deg = 125.0;        ///< in (0, 179]
  std::optional<double> absorbed_J;  ///< nothing: free swing
  bool breaks = true;                ///< false: the bar stops the hammer and throws it back
  bool fragment = true;              ///< the broken piece flies off; false: it hinges over
  bool stickers = false;             ///< two dots on the arm
  bool tag = false;                  ///< a square tag on the hammer (4x4 dictionary, number 7)
  bool shadow = true;                ///< the arm's moving shadow
  double hold_s = 0.4, length_s = 2.6;  ///< length: of the first swing with its hold
  std::vector<RenderFurtherSwing> further;
  double rest_s = 0.0;  ///< hanging still at the end of the clip
  RenderRest rest = RenderRest::SeparateTake;
  std::uint64_t seed = 1;  ///< colours, shapes, clutter, lamp, noise and jitter
  std::optional<std::uint64_t> design_seed;  ///< of the room and rig alone; nothing: `seed`
  int jobs = 2;                              ///< threads, >= 1; does not change a byte
};

/// One swing as it truly went. Angles from hanging rest, positive on the release side.
struct RenderSwingTruth {
  double release_s = 0.0;        ///< clip times of true capture
  std::optional<double> blow_s;  ///< first passage of rest
  std::optional<double> turn_s;  ///< first turning point after it (thrown back: the one on
                                 ///< the release side); nothing when the clip ends before
  double release_deg = 0.0;
  double rise_deg = 0.0;  ///< far-side turning point, positive; thrown back: negative.
                          ///< True also where the clip ends before it
  std::optional<double> absorbed_J;  ///< taken out at the blow; nothing: free or not broken
  double available_J = 0.0;          ///< kinetic energy on arriving at the bar
  double friction_J = 0.0;  ///< lost to bearing and air from release to that turning point
  bool broken = false;
};

/// What truly happened in the rendered clip.
struct RenderTruth {
  double release_deg = 0.0, rise_deg = 0.0;  ///< of the first swing; rise: NaN never
  std::optional<double> absorbed_J;
  std::vector<double> frame_time_s;  ///< true mid-exposure (of the middle row), 0 at the first
  std::vector<double> frame_angle_deg;
  std::vector<double> frame_stamp_s;  ///< what the container says
  std::vector<RenderSwingTruth> swings;
};

/// Swings the rig, draws every frame and writes `path` (container by its ending, such as .mp4).
/// Same scene, same pictures to the last bit; the file's bytes are the coder's.
/// \throws InputError  as create_clip
/// \throws std::logic_error  for a scene out of range (absorbed_J above what the blow has, ...)
RenderTruth render_swing(const RenderScene& scene, const std::string& path);

}  // namespace swingloss
