// SPDX-License-Identifier: Apache-2.0
#include "imaging/picture_decoder.h"

#include "imaging/made_clip.h"
#include "imaging/packet_scan.h"
#include "imaging/scratch_folder.h"
#include "support/test.h"

#include <set>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavutil/frame.h>
}

using namespace swingloss;
using namespace swingloss::test;

namespace {

struct Packet {
  std::int64_t place = 0, stamp = 0;
  int size = 0;
  bool key = false;
};

std::vector<Packet> packets_of(const std::string& path) {
  const Demuxer demuxer = open_demuxer(path, container_extent(path));
  std::vector<Packet> out;
  const PacketHandle packet = make_packet();
  int errors = 0;
  while (read_packet(*demuxer.format, *packet, errors)) {
    out.push_back(
        {packet->pos, packet->pts, packet->size, (packet->flags & AV_PKT_FLAG_KEY) != 0});
    av_packet_unref(packet.get());
  }
  return out;
}

std::set<std::int64_t> decoded(const std::string& path, PictureDecoder::Way way, int& damages) {
  PictureDecoder decoder(open_demuxer(path, container_extent(path)), way, 0);
  std::set<std::int64_t> stamps;
  while (const AVFrame* frame = decoder.next()) stamps.insert(frame->best_effort_timestamp);
  damages = decoder.damages();
  return stamps;
}

/// The second key picture that is followed by a picture shown before it.
std::size_t bridged_key(const std::vector<Packet>& packets) {
  for (std::size_t i = 1; i + 1 < packets.size(); ++i) {
    if (packets[i].key && packets[i + 1].stamp < packets[i].stamp) return i;
  }
  return 0;
}

void spoil(const std::string& path, const Packet& packet) {
  std::string bytes = bytes_of(path);
  // The middle of the packet: its head is left, so that it is decoded, wrongly.
  const auto from = static_cast<std::size_t>(packet.place + packet.size / 3);
  for (std::size_t i = from; i < from + static_cast<std::size_t>(packet.size / 3); ++i) {
    bytes[i] = static_cast<char>(i * 151 % 255 + 1);
  }
  write_bytes(path, bytes);
}

}  // namespace

TEST_CASE("damage before a key picture does not outlast it", "[imaging]") {
  const ScratchFolder scratch;
  const std::string path = scratch.file("a.mp4");
  WriteOptions options;
  options.codec = "hevc";  // whose pictures may bridge over a key picture
  options.nominal_rate_per_s = 12.0;
  write_made(path, even_times(40, 12.0), options);
  const std::string whole = bytes_of(path);
  const std::vector<Packet> packets = packets_of(path);
  const std::size_t key = bridged_key(packets);
  REQUIRE(key > 0);
  for (const std::size_t spoilt : {key - 1, key + 1}) {  // the last before it; a bridging one
    CAPTURE(spoilt, key);
    write_bytes(path, whole);
    spoil(path, packets[spoilt]);
    int damages = 0;
    const auto stamps = decoded(path, PictureDecoder::Way::Careful, damages);
    CHECK(damages > 0);
    CHECK(stamps.count(packets[spoilt].stamp) == 0);
    for (const Packet& packet : packets) {
      if (packet.stamp >= packets[key].stamp) CHECK(stamps.count(packet.stamp) == 1);
    }
  }
}

TEST_CASE("a fast decoder tells that something was damaged, a careful one what", "[imaging]") {
  const ScratchFolder scratch;
  const std::string path = scratch.file("a.mp4");
  write_made(path, even_times(20, 60.0));
  PictureDecoder sound(
      open_demuxer(path, container_extent(path)), PictureDecoder::Way::Fast, 3);
  while (sound.next() != nullptr) CHECK_FALSE(sound.suspicious());
  const std::vector<Packet> packets = packets_of(path);
  spoil(path, packets[packets.size() / 2]);
  PictureDecoder fast(open_demuxer(path, container_extent(path)), PictureDecoder::Way::Fast, 3);
  while (fast.next() != nullptr) {
  }
  CHECK(fast.suspicious());
  int damages = 0;
  const auto stamps = decoded(path, PictureDecoder::Way::Careful, damages);
  CHECK(damages > 0);
  CHECK(stamps.size() < 20);
  CHECK(stamps.count(packets.front().stamp) == 1);
}
