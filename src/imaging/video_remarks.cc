// SPDX-License-Identifier: Apache-2.0
#include "imaging/video_remarks.h"

#include "core/input_error.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <optional>

namespace swingloss {
namespace {

std::string seconds(double value_s) {
  char text[40];
  std::snprintf(text, sizeof text, "%.3f s", value_s);
  return text;
}

std::string rate(double value_per_s) {
  char text[40];
  std::snprintf(text, sizeof text, "%.4g pictures/s", value_per_s);
  return text;
}

std::string pictures(int count) {
  return std::to_string(count) + (count == 1 ? " picture" : " pictures");
}

/// The end is missing: what came before it is sound.
std::optional<Remark> cut_off(const VideoLosses& losses,
                              const ClipInfo& info,
                              const PacketScan& scan,
                              const ContainerExtent& extent) {
  if (!ends_early(scan, extent)) return std::nullopt;
  const bool nothing_lost = scan.promised > 0 && scan.pictures >= scan.promised;
  std::string text = "The file ends too early";
  if (extent.missing_bytes > 0) {
    text +=
        ": " + std::to_string(extent.missing_bytes) + " bytes that it announces are missing";
  }
  if (nothing_lost) {
    return Remark{"clip-cut-off",
                  Severity::Note,
                  text + ". All " + pictures(scan.promised) + " of its index are there."};
  }
  text += ". ";
  if (losses.at_end) {
    text +=
        pictures(losses.delivered) + " could be read, the last at " + seconds(losses.last_s);
    if (info.expected_frames > losses.delivered) {
      text += ", of about " + std::to_string(info.expected_frames) + " by its header";
    }
    text += ". ";
  }
  return Remark{"clip-cut-off", Severity::Warning, text + "Copy it from the camera again."};
}

std::optional<Remark> damaged(const VideoLosses& losses, const PacketScan& scan) {
  const int lost = std::max(0, scan.pictures - losses.delivered - losses.other_size);
  const bool decoded_all = losses.damages == 0 || (losses.at_end && lost == 0);
  if (decoded_all && scan.not_found == 0 && !scan.broken_structure) return std::nullopt;
  std::string text = "Parts of the file cannot be decoded. ";
  if (scan.not_found > 0) {
    text +=
        pictures(scan.not_found) +
        " that it announces are not there, and an .avi holds no time stamps: what follows the "
        "gap is timed too early. ";
  }
  if (losses.at_end) {
    text +=
        pictures(lost) +
        " that are damaged, or built on damaged ones, were left out; the last one kept is at " +
        seconds(losses.last_s) + ". ";
  }
  return Remark{"clip-damaged", Severity::Warning, text + "Copy it from the camera again."};
}

void add_time_remarks(const VideoLosses& losses,
                      const ClipInfo& info,
                      const PacketScan& scan,
                      Remarks& out) {
  const double stated = info.nominal_rate_per_s;
  if (info.time_source == TimeSource::NominalRate) {
    out.push_back({"nominal-time",
                   stamps_usable(scan) ? Severity::Note : Severity::Warning,
                   "The file holds no usable time stamps; its pictures are taken as evenly "
                   "spaced at " +
                       rate(1.0 / usual_interval_s(info, scan)) +
                       ". Angles stand, speeds depend on it."});
  }
  if (stated == 0.0 && scan.median_interval_s == 0.0) {
    out.push_back({"rate-unknown",
                   Severity::Warning,
                   "The file does not say how fast its pictures follow each other; " +
                       rate(kAssumedRate_per_s) + " is assumed. Angles stand, speeds do not."});
  }
  if (info.capture_rate_per_s > 0.0 && stated > 0.0 &&
      std::abs(info.capture_rate_per_s / stated - 1.0) > 0.05) {
    out.push_back({"slow-motion",
                   Severity::Note,
                   "The file is slowed down: filmed at " + rate(info.capture_rate_per_s) +
                       " by its own account, played at " + rate(stated) + "."});
  }
  if (!losses.at_end || losses.delivered < 10 || stated == 0.0 || losses.last_s <= 0.0) return;
  const double mean = (losses.delivered - 1) / losses.last_s;
  const double usual = 1.0 / usual_interval_s(info, scan);
  const auto off = [&](double seen) { return std::abs(seen / stated - 1.0) > 0.1; };
  if (info.time_source == TimeSource::TimeStamps && off(mean) && off(usual)) {
    out.push_back({"rate-disagrees",
                   Severity::Note,
                   "The file states " + rate(stated) + ", its time stamps give " + rate(usual) +
                       "; the time stamps are used."});
  }
}

void add_line_remarks(const VideoLosses& losses, Remarks& out) {
  if (losses.fields > 0) {
    const bool all_marked = losses.fields <= losses.marked;
    out.push_back(
        {all_marked ? kInterlaced : kInterlacedUnmarked,
         Severity::Warning,
         pictures(losses.fields) + " are interlaced" +
             (all_marked ? "" : ", though the file does not say so") +
             ": even and odd lines show two moments. Only the even ones are used, half of what "
             "was filmed. Set the camera to progressive (\"p\") recording."});
  } else if (losses.marked > 0) {
    out.push_back({kNotInterlaced,
                   Severity::Note,
                   "The file says that " + pictures(losses.marked) +
                       " are interlaced. What moves in them shows no comb; all lines are "
                       "used."});
  }
}

void add_layout_remarks(const VideoLosses& losses, const StreamFacts& facts, Remarks& out) {
  if (losses.other_size > 0) {
    out.push_back(
        {"picture-size-changes",
         Severity::Warning,
         pictures(losses.other_size) + " of another size than the first one were left out."});
  }
  add_line_remarks(losses, out);
  if (facts.turn_ignored) {
    out.push_back(
        {"odd-rotation",
         Severity::Warning,
         "The file asks for a turn that is not a multiple of 90 degrees; the pictures "
         "are used as stored."});
  }
  if (facts.aspect_ignored) {
    out.push_back({"odd-pixel-aspect",
                   Severity::Warning,
                   "The file names a shape of pixels that no camera has; square ones are "
                   "assumed."});
  }
}

}  // namespace

Remarks video_remarks(const VideoLosses& losses,
                      const StreamFacts& facts,
                      const ClipInfo& info,
                      const PacketScan& scan,
                      const ContainerExtent& extent) {
  Remarks out;
  if (const auto remark = cut_off(losses, info, scan, extent)) out.push_back(*remark);
  if (const auto remark = damaged(losses, scan)) out.push_back(*remark);
  add_layout_remarks(losses, facts, out);
  add_time_remarks(losses, info, scan, out);
  return out;
}

void refuse_without_picture(const std::string& path,
                            const PacketScan& scan,
                            const ContainerExtent& extent) {
  if (extent.kind == ContainerKind::Mp4 && !extent.has_index) refuse_without_index(path);
  const std::string found = ends_early(scan, extent)
                                ? "a recording that is cut off before its first picture"
                                : "a video of which no picture can be decoded";
  throw InputError(
      {path,
       "",
       found,
       "at least one picture",
       "Copy the file from the camera again; if it plays there, save it as H.264 in "
       "an .mp4 file."});
}

}  // namespace swingloss
