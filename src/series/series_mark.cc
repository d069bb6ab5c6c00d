// SPDX-License-Identifier: Apache-2.0
#include "series/series_mark.h"

#include "series/fingerprint.h"
#include "series/run_series.h"

#include <filesystem>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

/// The program's own file: another build may draw another way.
constexpr const char* kProgram = "/proc/self/exe";

}  // namespace

std::string series_mark(const SeriesPlan& plan) {
  const fs::path folder(plan.folder);
  const fs::path results(results_folder(plan));
  std::string mark;
  for (const fs::path& part : {fs::path(kProgram),
                               folder / "series.json",
                               folder / "specimens.csv",
                               folder / "masses.csv",
                               results / "corrections.json",
                               results / "free-swings",
                               results / "swings",
                               results / "surfaces"}) {
    mark += mark_if_there(part.string()) + " ";
  }
  return mark;
}

}  // namespace swingloss
