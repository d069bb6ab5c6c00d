// SPDX-License-Identifier: Apache-2.0
/// \file video_remarks.h
/// What was odd about a video file, in sentences. Internal to imaging.
#pragma once

#include "core/remark.h"
#include "imaging/container_extent.h"
#include "imaging/packet_scan.h"
#include "imaging/stream_facts.h"

#include <string>

namespace swingloss {

/// What reading a clip has come to so far.
struct VideoLosses {
  int delivered = 0;
  int damages = 0;      ///< times that the decoder met damage
  int other_size = 0;   ///< pictures left out because their size differs from the first one's
  int marked = 0;       ///< of those delivered, as interlaced
  int fields = 0;       ///< delivered as their upper field alone
  double last_s = 0.0;  ///< time of the last one delivered
  bool at_end = false;  ///< all has been read
};

/// "clip-cut-off", "clip-damaged", "picture-size-changes", "interlaced", "interlaced-unmarked",
/// "not-interlaced", "nominal-time",
/// "rate-unknown", "rate-disagrees", "slow-motion", "odd-rotation", "odd-pixel-aspect".
[[nodiscard]] Remarks video_remarks(const VideoLosses& losses,
                                    const StreamFacts& facts,
                                    const ClipInfo& info,
                                    const PacketScan& scan,
                                    const ContainerExtent& extent);

/// For a file that opens but gives no picture at all. \throws InputError always
[[noreturn]] void refuse_without_picture(const std::string& path,
                                         const PacketScan& scan,
                                         const ContainerExtent& extent);

}  // namespace swingloss
