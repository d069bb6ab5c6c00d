// SPDX-License-Identifier: Apache-2.0
/// Each kind of file that is not a clip is refused with its own reason and a next step.
#include "core/input_error.h"
#include "imaging/made_clip.h"
#include "imaging/mp4_surgery.h"
#include "imaging/scratch_folder.h"
#include "imaging/still.h"
#include "support/test.h"

using namespace swingloss;
using namespace swingloss::test;

namespace {

/// What open_clip() finds wrong with a path.
InputFault fault_of(const std::string& path) {
  try {
    static_cast<void>(open_clip(path));
  } catch (const InputError& error) {
    return error.fault();
  }
  return {};
}

void check_refused(const std::string& path, const std::string& reason) {
  const InputFault fault = fault_of(path);
  CAPTURE(path, fault.found);
  CHECK(fault.file == path);
  CHECK(fault.found.find(reason) != std::string::npos);
  CHECK_FALSE(fault.wanted.empty());
}

std::string little_endian(std::uint32_t value, int bytes) {
  std::string out;
  for (int i = 0; i < bytes; ++i) out += static_cast<char>(value >> (8 * i) & 0xFFU);
  return out;
}

/// Half a second of silence, 8 kHz, 16 bits. (RIFF WAVE, format tag 1)
std::string silence() {
  const std::string samples(8000, '\0');
  const std::string format = little_endian(1, 2) + little_endian(1, 2) +
                             little_endian(8000, 4) + little_endian(16000, 4) +
                             little_endian(2, 2) + little_endian(16, 2);
  const std::string body = "WAVEfmt " + little_endian(16, 4) + format + "data" +
                           little_endian(static_cast<std::uint32_t>(samples.size()), 4) +
                           samples;
  return "RIFF" + little_endian(static_cast<std::uint32_t>(body.size()), 4) + body;
}

/// The same as an MP3-like file: an ID3v2.3 tag with a cover picture before the sound.
std::string big_endian_synchsafe(std::size_t value) {
  std::string out;
  for (int shift = 21; shift >= 0; shift -= 7) out += static_cast<char>(value >> shift & 0x7FU);
  return out;
}

std::string sound_with_cover(const std::string& png) {
  const std::string head = std::string(1, '\0') + "image/png" + '\0' + '\3' + '\0';
  const std::string frame =
      "APIC" + big_endian_32(static_cast<std::uint32_t>(head.size() + png.size())) +
      std::string(2, '\0') + head + png;
  std::string bytes =
      "ID3\3" + std::string(2, '\0') + big_endian_synchsafe(frame.size()) + frame;
  // MPEG-1 layer III, 128 kbit/s, 44.1 kHz: 417 bytes a frame, all of it silence.
  for (int k = 0; k < 20; ++k)
    bytes += std::string("\xFF\xFB\x90\x00", 4) + std::string(413, '\0');
  return bytes;
}

}  // namespace

TEST_CASE("open_clip names what is wrong with the file", "[imaging]") {
  const ScratchFolder scratch;
  check_refused(scratch.file("missing.mp4"), "no such file");
  write_bytes(scratch.file("empty.mp4"), "");
  check_refused(scratch.file("empty.mp4"), "empty file");
  write_bytes(scratch.file("text.mp4"), "This is no clip, whatever its name says.\n");
  check_refused(scratch.file("text.mp4"), "not a video");
  write_bytes(scratch.file("note.txt"), "A note about the clip.\n");
  check_refused(scratch.file("note.txt"), "not a video");
  write_bytes(scratch.file("table.csv"), "id,material\n1,A\n");
  check_refused(scratch.file("table.csv"), "not a video");
  write_bytes(scratch.file("banner.ans"), "\x1B[31mTEXT\x1B[0m in colour\r\n");
  check_refused(scratch.file("banner.ans"), "moving picture");
  write_bytes(scratch.file("sound.wav"), silence());
  check_refused(scratch.file("sound.wav"), "sound only");
  write_bytes(scratch.file("zeros.mp4"), std::string(5000, '\0'));
  check_refused(scratch.file("zeros.mp4"), "not a video");
  check_refused("/dev/null", "neither file nor folder");
}

TEST_CASE("a cover picture is not a clip", "[imaging]") {
  const ScratchFolder scratch;
  write_png(scratch.file("cover.png"), made_picture(0));
  write_bytes(scratch.file("sound.mp3"), sound_with_cover(bytes_of(scratch.file("cover.png"))));
  check_refused(scratch.file("sound.mp3"), "sound with a cover picture");
}

TEST_CASE("a single photograph is not a clip", "[imaging]") {
  const ScratchFolder scratch;
  write_png(scratch.file("photo.png"), made_picture(0));
  check_refused(scratch.file("photo.png"), "a single picture");
  write_bytes(
      scratch.file("photo.heic"),
      big_endian_32(24) + "ftypheic" + big_endian_32(0) + "mif1heic" + std::string(99, 'x'));
  check_refused(scratch.file("photo.heic"), "a single picture");
}

TEST_CASE("a file of which only the head is left is refused as cut off", "[imaging]") {
  const ScratchFolder scratch;
  WriteOptions options;
  write_made(scratch.file("a.mp4"), even_times(10, 60.0), options);
  const std::string bytes = bytes_of(scratch.file("a.mp4"));
  write_bytes(scratch.file("a.mp4"), bytes.substr(0, bytes.find("mdat") + 20));
  check_refused(scratch.file("a.mp4"), "cut off before its first picture");
}
