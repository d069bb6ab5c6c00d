// SPDX-License-Identifier: Apache-2.0
#include "series/look_at_faces.h"

#include "support/test.h"

using namespace swingloss;

namespace {

BarResult bar_with(double energy_J, std::optional<FractureLook> look) {
  BarResult bar;
  bar.specimen.material = "red";
  bar.bar.energy_J = Uncertain::exact(energy_J);
  FaceMeasures face;
  face.judgement.verdict = look;
  face.judgement.probability = {0.6, 0.6, 0.6};
  SurfaceMeasurement photo;
  photo.faces = {face};
  bar.surface = SurfaceRecord{"", {photo}, {}};
  return bar;
}

bool is_remarked(const BarResult& bar) {
  for (const Remark& remark : bar.remarks) {
    if (remark.code == "look-and-energy") return true;
  }
  return false;
}

}  // namespace

TEST_CASE("a look that speaks against the energy is remarked on, and only such", "[series]") {
  SeriesResult result;
  result.bars = {bar_with(1.0, FractureLook::Ductile),
                 bar_with(2.0, FractureLook::Brittle),
                 bar_with(3.0, FractureLook::Brittle),
                 bar_with(9.0, FractureLook::Mixed),
                 bar_with(0.5, std::nullopt)};
  hold_look_against_energy(result);
  CHECK(is_remarked(result.bars[0]));
  for (std::size_t i = 1; i < 5; ++i) CHECK_FALSE(is_remarked(result.bars[i]));

  result.bars[0].bar.energy_J = Uncertain::exact(2.5);  // between the two: nothing to say
  result.bars[0].remarks.clear();
  hold_look_against_energy(result);
  CHECK_FALSE(is_remarked(result.bars[0]));

  result.bars[0].bar.energy_J = Uncertain::exact(1.0);
  for (std::size_t i = 1; i < 3; ++i)
    result.bars[i].specimen.condition = "dried";  // another group
  hold_look_against_energy(result);
  CHECK_FALSE(is_remarked(result.bars[0]));
}

TEST_CASE("the surest face speaks for a bar", "[series]") {
  BarResult bar = bar_with(1.0, FractureLook::Mixed);
  FaceMeasures surer;
  surer.judgement.verdict = FractureLook::Brittle;
  surer.judgement.probability = {0.8, 0.1, 0.1};
  FaceMeasures silent;
  silent.judgement.probability = {0.9, 0.05, 0.05};
  bar.surface->photos[0].faces.push_back(silent);
  bar.surface->photos[0].faces.push_back(surer);
  const FaceMeasures* face = speaking_face(*bar.surface);
  REQUIRE(face != nullptr);
  CHECK(face->judgement.verdict == FractureLook::Brittle);
  CHECK(speaking_face(SurfaceRecord()) == nullptr);
}

TEST_CASE("a bar's break type is told from the pair on one photograph, not from two pictures",
          "[series]") {
  FaceMeasures half;
  half.notch_found = true;
  SurfaceMeasurement both;
  both.faces = {half, half};
  both.pairs = {{0, 1, 0.2}};
  CHECK(break_guess_of(SurfaceRecord{"", {both}, {}}).letter == "C");
  SurfaceMeasurement one;
  one.faces = {half};
  CHECK(break_guess_of(SurfaceRecord{"", {one, one}, {}}).letter.empty());
  CHECK(break_guess_of(SurfaceRecord()).letter.empty());
  one.faces.front().parting.joined = true;
  CHECK(break_guess_of(SurfaceRecord{"", {one}, {}}).letter == "H");
}

TEST_CASE("layers of a bar are read with its recorded orientation", "[series]") {
  BarResult bar = bar_with(1.0, FractureLook::Brittle);
  FaceMeasures& face = bar.surface->photos[0].faces[0];
  face.notch_found = true;
  face.appearance.line_strength = 0.6;
  bar.specimen.orientation = "flat";
  CHECK(layers_of_bar(bar).sure);
  bar.specimen.orientation = "on-edge";
  CHECK(layers_of_bar(bar).course == CrackCourse::CannotTell);
}
