// SPDX-License-Identifier: Apache-2.0
/// \file bar_film.h
/// The overlay film of one bar of a series, written once and used again.
#pragma once

#include "report/page.h"
#include "report/shelf.h"
#include "report/write_report.h"

#include <cstddef>

namespace swingloss {

/// Writes overlays/ID.mp4 of a bar that was filmed, where ReportOptions::overlays or films asks for it,
/// and overlays/ID.made-from beside it: one line that tells what the film shows. Where that
/// line is still true the film of an earlier run stays as it is, asked for or not; a film that
/// shows other numbers than the report is taken away with the rest of what is stale. \throws
/// InputError  the place cannot be written; a clip that cannot be read is a fault in
///                     `pictures`
void film_bar(const SeriesResult& series,
              std::size_t index,
              const ReportOptions& options,
              Shelf& shelf,
              BarPictures& pictures);

}  // namespace swingloss
