// SPDX-License-Identifier: Apache-2.0
/// \file design.h
/// What is drawn: a rig, a bench and a wall, different for every seed.
#pragma once

#include "render/lamp.h"
#include "render/prism.h"
#include "render/random_stream.h"
#include "render/render_swing.h"

#include <vector>

namespace swingloss::render {

/// All bodies of a scene. The room's axes have their origin on the axle in the plane of swing.
struct Design {
  Lamp lamp;
  std::vector<Prism> room;       ///< never moves
  std::vector<Prism> arm;        ///< turns about the axle: arm, hub, hammer, stickers
  std::vector<Prism> pointer;    ///< turns about the axle on its own; empty without one
  std::vector<Prism> bar;        ///< the part above the vice, origin at its foot
  std::vector<Prism> stub;       ///< the part of the bar inside the vice, in the room's axes
  std::vector<Prism> hand;       ///< origin on the hammer, does not turn; empty without one
  double strike_radius_m = 0.0;  ///< axle to the line of the blow
  double hammer_radius_m = 0.0;  ///< axle to the middle of the hammer
  double bench_m = 0.0;          ///< height of the bench top (y, negative)
  double vice_m = 0.0;           ///< height of the vice's jaws (y, negative)
};

/// Colours of one scene, far enough apart for a person to see the arm.
struct Palette {
  Colour wall, bench, upright, arm, hammer, trim, vice, bar, glove;
};

/// Deterministic in the scene's design seed (its seed where none is given).
[[nodiscard]] Design make_design(const RenderScene& scene);

/// The rig's moving bodies (design_rig.cc).
void add_moving_bodies(const RenderScene& scene, const Palette& palette, Design* design);
/// Wall, bench, upright, vice (design_room.cc).
void add_fixed_bodies(const RenderScene& scene, const Palette& palette, Design* design);
/// Things on the wall and the bench (design_clutter.cc).
void add_clutter(const Palette& palette, RandomStream* random, Design* design);

}  // namespace swingloss::render
