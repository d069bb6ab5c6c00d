// SPDX-License-Identifier: Apache-2.0
#include "swing/find_falls.h"

#include "core/angle.h"
#include "support/test.h"
#include "swing/made_clip.h"

#include <algorithm>

using namespace swingloss;
using namespace swingloss::test;

namespace {

double deg(double rad) { return Angle::from_rad(rad).deg(); }

FallsFound found_in(const MadeClip& clip, const MadeSampling& sampling = {}) {
  Result<FallsFound> found = find_falls(clip.sampled(sampling).samples);
  REQUIRE(found.ok());
  return std::move(found).value();
}

const Fall& blow_in(const FallsFound& found) { return found.falls[fall_of_blow(found.falls)]; }

MadeBar bar(double absorbs = 0.63) {
  MadeBar b;
  b.absorbs = absorbs;
  return b;
}

MadeBar holding(double thrown_back, double at_rad = 0.0) {
  MadeBar b;
  b.breaks = false;
  b.thrown_back = thrown_back;
  b.at_rad = at_rad;
  return b;
}

}  // namespace

TEST_CASE("guess_law finds zero and frequency without any event", "[swing]") {
  for (const double direction : {1.0, -1.0}) {
    for (const double zero_deg : {0.0, -133.0, 400.0}) {
      CAPTURE(direction, zero_deg);
      MadeSampling sampling;
      sampling.direction = direction;
      sampling.zero_deg = zero_deg;
      const auto guess = guess_law(usual_blow().sampled(sampling).samples);
      REQUIRE(guess.ok());
      // A starting value: parabolas over 0.9/w0 flatten the motion by a per cent, and those
      // that straddle the blow pull at zero by a degree.
      CHECK_THAT(deg(guess.value().zero_rad), to_truncation(zero_deg, 1.0));
      CHECK_THAT(guess.value().natural_rad_per_s, to_truncation(5.0, 0.1));
    }
  }
}

TEST_CASE("guess_law knows slow motion and odd pictures of a pendulum", "[swing]") {
  MadeSampling slow;
  slow.time_scale = 8.0;
  slow.rate_per_s = 240.0;
  const auto guess = guess_law(usual_blow().sampled(slow).samples);
  REQUIRE(guess.ok());
  // As above, in container time.
  CHECK_THAT(guess.value().natural_rad_per_s, to_truncation(5.0 / 8.0, 0.02));

  MadeClip hanging{MadeRig{}};
  hanging.still(2.0);
  const auto none = guess_law(hanging.sampled({}).samples);
  REQUIRE_FALSE(none.ok());
  CHECK(none.failure().code == "no-swing");
}

TEST_CASE("a hand that moves the arm is no pendulum", "[swing]") {
  MadeClip clip{MadeRig{}};
  clip.carried(60, 1.0).carried(-40, 1.5).carried(10, 0.8).carried(70, 1.2).carried(0, 1.0);
  const auto found = find_falls(clip.sampled({}).samples);
  REQUIRE_FALSE(found.ok());
  CHECK(found.failure().code == "no-swing");
}

TEST_CASE("hold, release, blow and turning point are found", "[swing]") {
  const MadeClip clip = usual_blow();
  const FallsFound found = found_in(clip);
  const Fall& fall = blow_in(found);
  CHECK(fall.side == 1.0);
  CHECK(fall.start_seen);
  REQUIRE(fall.hold.has_value());
  CHECK(fall.after == AfterFall::Rise);
  CHECK(fall.turn_seen);
  // Rough by design: zero's degree, and a sample or two in time (60 per second).
  CHECK_THAT(deg(fall.amplitude_rad), to_truncation(125.0, 1.5));
  CHECK_THAT(-deg(fall.turn_rad), to_truncation(clip.rise_deg(), 1.5));
  CHECK_THAT(fall.bottom_s, to_truncation(clip.blow_s(), 0.01));
  CHECK_THAT(fall.turn_s, to_truncation(clip.turn_s(), 0.02));
  CHECK_THAT(fall.start_s, to_truncation(clip.release_s(), 0.04));
}

TEST_CASE("rest, lift, hold, blow, cut and rest are told apart", "[swing]") {
  MadeClip clip{MadeRig{}};
  clip.still(1.0).carried(125, 1.5).still(0.5).free(2.0, bar()).cut_to(0.0).still(1.0);
  const FallsFound found = found_in(clip);
  const Fall& fall = blow_in(found);
  CHECK_THAT(fall.bottom_s, to_truncation(clip.blow_s(), 0.01));  // half a sample
  CHECK(other_blows(found.falls, fall_of_blow(found.falls)).empty());
  REQUIRE(found.still.size() == 3);
  CHECK_THAT(deg(found.still[0].theta_rad), to_truncation(0.0, 0.02));  // the noise of its mean
  CHECK_THAT(deg(found.still[1].theta_rad), to_truncation(125.0, 0.02));
}

TEST_CASE("a practice swing is passed over for the blow", "[swing]") {
  MadeClip clip{MadeRig{}};
  clip.cut_to(125).still(0.5).free(2.3).carried(60, 0.5).carried(125, 1.0).still(0.5).free(
      2.0, bar());
  const FallsFound found = found_in(clip);
  CHECK(fall_of_blow(found.falls) > 0);
  CHECK_THAT(blow_in(found).bottom_s, to_truncation(clip.blow_s(), 0.01));  // half a sample
}

TEST_CASE("of two blows the first is chosen and the other named", "[swing]") {
  MadeClip clip{MadeRig{}};
  clip.cut_to(125)
      .still(0.5)
      .free(1.3, bar())
      .carried(60, 0.5)
      .carried(125, 1.0)
      .still(0.5)
      .free(2.0, bar());
  const FallsFound found = found_in(clip);
  const std::size_t chosen = fall_of_blow(found.falls);
  CHECK_THAT(found.falls[chosen].bottom_s,
             to_truncation(clip.blow_s(), 0.01));  // half a sample
  CHECK(other_blows(found.falls, chosen).size() == 1);
}

TEST_CASE("a hand that catches the arm on its way back is no blow", "[swing]") {
  MadeClip clip{MadeRig{}};
  clip.cut_to(125).still(0.4).free(1.3, bar()).carried(-20, 0.3).carried(0, 0.6).still(0.5);
  CHECK_THAT(blow_in(found_in(clip)).bottom_s, to_truncation(clip.blow_s(), 0.01));  // as above
}

TEST_CASE("stopped and thrown back are told from a rise", "[swing]") {
  struct Case {
    MadeBar bar;
    AfterFall after;
  };
  const Case cases[] = {{holding(0.0), AfterFall::Stop},
                        {holding(0.1), AfterFall::Rebound},
                        {holding(0.05, -0.1), AfterFall::Rebound},
                        {holding(0.0, 0.05), AfterFall::Stop},
                        {bar(1.5), AfterFall::Rise}};
  for (const double rate : {30.0, 60.0, 240.0}) {
    for (const Case& c : cases) {
      CAPTURE(rate, c.bar.thrown_back, c.bar.at_rad, c.bar.absorbs);
      MadeClip clip{MadeRig{}};
      clip.cut_to(125).still(0.4).free(2.0, c.bar);
      MadeSampling sampling;
      sampling.rate_per_s = rate;
      CHECK(blow_in(found_in(clip, sampling)).after == c.after);
    }
  }
}

TEST_CASE("a clip that begins or ends too soon says what it lacks", "[swing]") {
  const MadeClip clip = usual_blow();
  MadeSampling late;
  late.from_s = 0.6;
  CHECK_FALSE(blow_in(found_in(clip, late)).start_seen);
  MadeSampling early;
  early.to_s = clip.turn_s() - 0.1;
  CHECK_FALSE(blow_in(found_in(clip, early)).turn_seen);
}

TEST_CASE("a free swing has no fall that stands out", "[swing]") {
  const FallsFound found = found_in(usual_free_swing());
  CHECK(fall_of_blow(found.falls) == 0);
  CHECK(other_blows(found.falls, 0).empty());
  // Friction takes 4 % of the energy in the first half swing, less later.
  CHECK(usual_loss_share(found.falls) > 0.02);
  CHECK(usual_loss_share(found.falls) < 0.05);
}
