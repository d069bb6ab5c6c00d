// SPDX-License-Identifier: Apache-2.0
#include "imaging/video_remarks.h"

#include "core/input_error.h"
#include "imaging/made_clip.h"
#include "support/test.h"

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// A faultless clip of 100 pictures at 50/s, read to its end.
struct Clip {
  VideoLosses losses;
  StreamFacts facts;
  ClipInfo info;
  PacketScan scan;
  ContainerExtent extent;

  Clip() {
    losses.delivered = 100;
    losses.last_s = 99 / 50.0;
    losses.at_end = true;
    info.nominal_rate_per_s = 50.0;
    info.expected_frames = 100;
    scan.pictures = scan.promised = 100;
    scan.median_interval_s = 1.0 / 50.0;
  }
  [[nodiscard]] Remarks remarks() const {
    return video_remarks(losses, facts, info, scan, extent);
  }
};

}  // namespace

TEST_CASE("a faultless clip has no remark", "[imaging]") { CHECK(Clip().remarks().empty()); }

TEST_CASE("a rate that the time stamps contradict is remarked", "[imaging]") {
  Clip clip;
  clip.info.nominal_rate_per_s = 25.0;
  REQUIRE(has(clip.remarks(), "rate-disagrees"));
  CHECK(clip.remarks().front().text.find("states 25 pictures/s") != std::string::npos);
  CHECK(clip.remarks().front().text.find("give 50 pictures/s") != std::string::npos);
  // Missing pictures lower the mean rate, not the usual interval: no contradiction.
  Clip gaps;
  gaps.losses.last_s = 3.0;
  CHECK(gaps.remarks().empty());
}

TEST_CASE("a clip without any rate says which one is assumed", "[imaging]") {
  Clip clip;
  clip.info.nominal_rate_per_s = 0.0;
  clip.scan.median_interval_s = 0.0;
  clip.info.time_source = TimeSource::NominalRate;
  REQUIRE(has(clip.remarks(), "rate-unknown"));
  CHECK(usual_interval_s(clip.info, clip.scan) == 1.0 / kAssumedRate_per_s);
}

TEST_CASE("what was left out is counted", "[imaging]") {
  Clip clip;
  clip.losses.delivered = 90;
  clip.losses.damages = 1;
  clip.losses.other_size = 3;
  const Remarks remarks = clip.remarks();
  REQUIRE(has(remarks, "clip-damaged"));
  CHECK(remarks.front().text.find("7 pictures") != std::string::npos);
  CHECK(has(remarks, "picture-size-changes"));
  Clip sound;  // an objection that cost no picture
  sound.losses.damages = 1;
  CHECK(sound.remarks().empty());
}

TEST_CASE("odd pixels and turns are remarked", "[imaging]") {
  Clip clip;
  clip.facts.aspect_ignored = true;
  clip.facts.turn_ignored = true;
  CHECK(has(clip.remarks(), "odd-pixel-aspect"));
  CHECK(has(clip.remarks(), "odd-rotation"));
}

TEST_CASE("a cut that costs no picture is a note, one that does a warning", "[imaging]") {
  Clip clip;
  clip.extent.missing_bytes = 12;
  REQUIRE(has(clip.remarks(), "clip-cut-off"));
  CHECK(clip.remarks().front().severity == Severity::Note);
  clip.scan.pictures = 60;
  clip.losses.delivered = 60;
  CHECK(clip.remarks().front().severity == Severity::Warning);
  CHECK(clip.remarks().front().text.find("60 pictures could be read") != std::string::npos);
}
