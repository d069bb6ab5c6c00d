// SPDX-License-Identifier: Apache-2.0
// Sound beside written pictures: as it was coded, at its own time.
#include "imaging/made_clip.h"
#include "imaging/made_sound.h"
#include "imaging/scratch_folder.h"
#include "support/test.h"

#include <algorithm>

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// Writes 60 pictures with the sound of `from`; it ends after picture `last`, where given.
Remarks write_over(const std::string& from,
                   const std::string& to,
                   std::optional<int> last = std::nullopt) {
  WriteOptions options;
  options.sound_from = from;
  const auto writer = create_clip(to, options);
  for (int k = 0; k < 60; ++k) {
    writer->add(made_picture(k), k / 60.0);
    if (last && *last == k) writer->end_sound();
  }
  writer->finish();
  return writer->remarks();
}

}  // namespace

TEST_CASE("sound is written as it was coded, at its own time", "[imaging]") {
  const ScratchFolder scratch;
  write_made(scratch.file("silent.mp4"), even_times(60, 60.0));
  add_sound(scratch.file("silent.mp4"), scratch.file("loud.mp4"), "aac");
  const std::vector<SoundPacket> before = sound_of(scratch.file("loud.mp4"));
  REQUIRE(before.size() > 40);  // a second of pieces of 1024 samples, 48000 a second
  for (const char* ending : {".mp4", ".mkv"}) {
    CAPTURE(ending);
    const std::string film = scratch.file(std::string("film") + ending);
    CHECK(write_over(scratch.file("loud.mp4"), film).empty());
    const std::vector<SoundPacket> after = sound_of(film);
    REQUIRE(after.size() == before.size());
    for (std::size_t k = 0; k < before.size(); ++k) {
      CHECK(after[k].bytes == before[k].bytes);
      // Matroska counts milliseconds.
      CHECK_THAT(after[k].t_s, to_truncation(before[k].t_s, 0.0011));
    }
    const ReadClip clip = read_all(film);
    REQUIRE(clip.frames.size() == 60);
    for (const Frame& frame : clip.frames) CHECK(counter_in(frame.luma) == frame.index);
  }
}

TEST_CASE("sound ends with the picture that it is told to end with", "[imaging]") {
  const ScratchFolder scratch;
  write_made(scratch.file("silent.mp4"), even_times(60, 60.0));
  add_sound(scratch.file("silent.mp4"), scratch.file("loud.mp4"), "aac");
  CHECK(write_over(scratch.file("loud.mp4"), scratch.file("film.mp4"), 29).empty());
  const std::vector<SoundPacket> kept = sound_of(scratch.file("film.mp4"));
  const std::vector<SoundPacket> whole = sound_of(scratch.file("loud.mp4"));
  const auto wanted = std::count_if(
      whole.begin(), whole.end(), [](const SoundPacket& one) { return one.t_s < 0.5; });
  REQUIRE(wanted > 20);
  CHECK(static_cast<std::ptrdiff_t>(kept.size()) == wanted);
  CHECK(read_all(scratch.file("film.mp4")).frames.size() == 60);
}

TEST_CASE("sound that is not there, or that the file cannot hold, is said", "[imaging]") {
  const ScratchFolder scratch;
  write_made(scratch.file("silent.mp4"), even_times(60, 60.0));
  add_sound(scratch.file("silent.mp4"), scratch.file("loud.mov"), "pcm_s16le");
  CHECK(has(write_over(scratch.file("silent.mp4"), scratch.file("a.mp4")), "no-sound"));
  CHECK(has(write_over(scratch.file("loud.mov"), scratch.file("b.mp4")), "sound-left-out"));
  CHECK(sound_of(scratch.file("b.mp4")).empty());
  CHECK(read_all(scratch.file("b.mp4")).frames.size() == 60);
  CHECK(write_over(scratch.file("loud.mov"), scratch.file("b.mkv")).empty());
  CHECK(sound_of(scratch.file("b.mkv")).size() == sound_of(scratch.file("loud.mov")).size());
}
