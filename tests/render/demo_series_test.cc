// SPDX-License-Identifier: Apache-2.0
#include "render/demo_series.h"

#include "core/csv.h"
#include "core/input_error.h"
#include "render/motion.h"
#include "support/temp_folder.h"
#include "support/test.h"

#include <cmath>
#include <map>
#include <set>

using namespace swingloss;
using test::to_printed_digits;

namespace {

RenderSwingTruth truth_of(const DemoBar& bar) {
  return render::swing_motion(demo_scene(bar)).swings().at(0);
}

}  // namespace

TEST_CASE("the demo has five groups of three to five bars", "[render]") {
  std::map<std::string, int> groups;
  std::set<std::string> ids;
  for (const DemoBar& bar : demo_bars()) {
    ++groups[bar.material + "/" + bar.condition];
    ids.insert(bar.id);
  }
  CHECK(ids.size() == demo_bars().size());
  CHECK(groups.size() == 5);
  for (const auto& [name, count] : groups) {
    CAPTURE(name);
    CHECK(count >= 3);
    CHECK(count <= 5);
  }
}

TEST_CASE("one demo bar does not break, and one clip ends before the turning point",
          "[render]") {
  int unbroken = 0, cut_off = 0;
  for (const DemoBar& bar : demo_bars()) {
    CAPTURE(bar.id);
    const RenderSwingTruth truth = truth_of(bar);
    REQUIRE(truth.blow_s);
    CHECK(*truth.blow_s < bar.length_s);
    unbroken += truth.broken ? 0 : 1;
    cut_off += truth.turn_s ? 0 : 1;
  }
  CHECK(unbroken == 1);
  CHECK(cut_off == 1);
}

TEST_CASE("demo energies are the strengths, and within the hammer's usable range", "[render]") {
  // 10 to 80 % of the energy of the release: ISO 13802, value from memory.
  const double capacity_J = 2.2 * (1.0 - std::cos(Angle::from_deg(125.0).rad()));
  for (const DemoBar& bar : demo_bars()) {
    if (bar.strength_kJ_m2 == 0.0) continue;
    CAPTURE(bar.id);
    const double taken_J = truth_of(bar).absorbed_J.value();
    const double strength = 1000.0 * taken_J / (bar.thickness_mm * bar.width_mm);
    CHECK_THAT(strength, to_printed_digits(bar.strength_kJ_m2, 12));
    CHECK(taken_J > 0.1 * capacity_J);
    CHECK(taken_J < 0.8 * capacity_J);
  }
}

TEST_CASE("all clips of the demo come from one camera set-up", "[render]") {
  const RenderScene free = demo_free_swing();
  CHECK_FALSE(free.absorbed_J);
  CHECK(free.breaks);
  for (const DemoBar& bar : demo_bars()) {
    const RenderScene scene = demo_scene(bar);
    CHECK(scene.design_seed == free.design_seed);
    CHECK(scene.camera.yaw_deg == free.camera.yaw_deg);
    CHECK(scene.seed != free.seed);
  }
}

TEST_CASE("the demo never writes over somebody's own folder", "[render]") {
  const test::TempFolder folder;
  folder.write("mine/notes.txt", "not a demo");
  CHECK_THROWS_AS(write_demo_series(folder / "mine"), InputError);
  folder.write("series/series.json", "{ \"format\": \"swingloss/series/1\" }");
  CHECK_THROWS_AS(write_demo_series(folder / "series"), InputError);
  folder.write("file", "a file");
  CHECK_THROWS_AS(write_demo_series(folder / "file"), InputError);
}
