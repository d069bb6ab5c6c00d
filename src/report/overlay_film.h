// SPDX-License-Identifier: Apache-2.0
/// \file overlay_film.h
/// A measured clip as a film for showing: the arm as fitted, its trail, and the read-outs.
#pragma once

#include "core/remark.h"
#include "report/overlay_texts.h"

#include <string>

namespace swingloss {

/// What was written.
struct OverlayFilm {
  int pictures = 0;          ///< of the part at the clip's own speed
  int slow_pictures = 0;     ///< of the replay, with the held last one; 0 without a blow
  double slow_from_s = 0.0;  ///< where in the film the replay begins; 0 without
  int slower = 1;            ///< by this whole number the replay is slower than the swing was
  Remarks remarks;           ///< what became of the sound (imaging/video_writer.h)
};

/// Writes an H.264 film: every picture of the clip at its own time, upright, with what
/// OverlayPainter draws; where there was a blow, the pictures about it once more in slow motion
/// (not slower than ten pictures a second), and the last one held for a second. Sides are even
/// and at most 3840 px. The clip is read twice, and one picture at a time is in memory. The
/// same record and clip give the same bytes. \param record  of a clip, not of a typed track
/// \throws InputError  as open_clip() and create_clip(); the film would replace the clip itself
OverlayFilm write_overlay(const SwingRecord& record,
                          const std::string& clip_path,
                          const std::string& film_path,
                          const OverlayOptions& options = {});

/// Refuses a place for a film before any work is done for it: one that create_clip() refuses,
/// and the clip itself. \throws InputError
void check_film_place(const std::string& clip_path, const std::string& film_path);

}  // namespace swingloss
