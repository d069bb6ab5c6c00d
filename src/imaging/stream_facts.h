// SPDX-License-Identifier: Apache-2.0
/// \file stream_facts.h
/// How a stream's stored pictures are to be laid and timed. Internal to imaging.
#pragma once

#include "imaging/demuxer.h"
#include "imaging/frame_source.h"
#include "imaging/packet_scan.h"
#include "imaging/picture_turn.h"

namespace swingloss {

/// What the container and the first picture say of all pictures.
struct StreamFacts {
  int stored_width_px = 0, stored_height_px = 0;
  double pixel_aspect_ratio = 1.0;  ///< stored width / height of a pixel
  bool aspect_ignored = false;      ///< the file names a ratio outside 1/4 to 4
  PictureTurn turn;
  bool turn_ignored = false;  ///< the file names a turn that is not of right angles
  bool interlaced = false, video_range = false;
  double stated_rate_per_s = 0.0;   ///< container's average rate; 0 when unknown
  double capture_rate_per_s = 0.0;  ///< as ClipInfo's
};

[[nodiscard]] StreamFacts stream_facts(const Demuxer& demuxer, const AVFrame& first);

/// Time stamps can be believed: they are there and grow for at least 98 of 100 pictures.
[[nodiscard]] bool stamps_usable(const PacketScan& scan);

[[nodiscard]] ClipInfo clip_info(const Demuxer& demuxer,
                                 const StreamFacts& facts,
                                 const PacketScan& scan);

/// The interval to assume where a time stamp fails [s], > 0. Where the file tells neither
/// interval nor rate, that of kAssumedRate_per_s (remarked as "rate-unknown").
[[nodiscard]] double usual_interval_s(const ClipInfo& info, const PacketScan& scan);

inline constexpr double kAssumedRate_per_s = 25.0;

}  // namespace swingloss
