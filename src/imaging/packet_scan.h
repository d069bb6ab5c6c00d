// SPDX-License-Identifier: Apache-2.0
/// \file packet_scan.h
/// A clip's packets counted and timed before any is decoded. Internal to imaging.
#pragma once

#include "imaging/container_extent.h"
#include "imaging/demuxer.h"

namespace swingloss {

/// What a pass over the packets found. Costs one reading of the file, no decoding.
struct PacketScan {
  int pictures = 0;       ///< packets of the chosen stream that are to be shown
  int promised = 0;       ///< pictures that the container's own index names; 0 when it has none
  int without_stamp = 0;  ///< of `pictures`, those with no time
  int repeated_stamp = 0;  ///< of `pictures`, those whose time another one has already
  int damaged = 0;         ///< packets that the demuxer knows to be incomplete
  int read_errors = 0;     ///< times that reading failed before the end
  int not_found = 0;  ///< pictures that an .avi announces but does not hold, cut ends apart
  bool broken_structure = false;   ///< of a Matroska file, elsewhere than at a cut end
  double median_interval_s = 0.0;  ///< between neighbouring time stamps; 0 below two pictures
  double end_s = 0.0;              ///< latest end of any packet of any stream, container time
  double promised_end_s = 0.0;  ///< the same by the container's header; 0 when it does not say
};

/// Reads `demuxer` to its end; it is of no use afterwards. \param extent  of the same file
[[nodiscard]] PacketScan scan_packets(const Demuxer& demuxer, const ContainerExtent& extent);

/// Whether the file ends before what it promises.
[[nodiscard]] bool ends_early(const PacketScan& scan, const ContainerExtent& extent);

/// Reads the next packet of any stream, going on over what cannot be read.
/// \return false at the end; `read_errors` counts failures
[[nodiscard]] bool read_packet(AVFormatContext& format, AVPacket& packet, int& read_errors);

}  // namespace swingloss
