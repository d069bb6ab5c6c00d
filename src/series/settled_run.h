// SPDX-License-Identifier: Apache-2.0
/// \file settled_run.h
/// A run of a series that left nothing to do, and whether that is still so.
#pragma once

#include "core/file_states.h"
#include "series/series_plan.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace swingloss {

/// Keeps what a run said in results/settled.json. The next run says it again without reading a
/// record or a clip while every file is as it was: those in the folder and its results, those
/// elsewhere that the tables name, this program and its tools. Times and sizes tell
/// (FileStates): a series has gigabytes of clips. Files of the last two seconds before the end
/// are known by their bytes. A series that was copied has other times, and is looked through in
/// full once.
/// Not for: a run that could not measure every bar. What was in the way (memory, a disk that
/// comes and goes) may be no file's.
class SettledRun {
 public:
  /// Made before the run reads anything.
  /// \param request  what the run was asked for beside the series, as one line
  /// \param tools    other programs that the results come from: where they lie or might lie
  SettledRun(const SeriesPlan& plan,
             const std::string& request,
             const std::vector<std::string>& tools);

  /// What the run before said, if this one would come to the same.
  [[nodiscard]] std::optional<std::string> unchanged() const;

  /// Keeps what this run says; drops it where an input was changed meanwhile, or where results/
  /// cannot be written any more.
  void keep(const std::string& words) const;

 private:
  [[nodiscard]] FileStates inputs() const;
  [[nodiscard]] FileStates results() const;
  /// The text of settled.json; empty where nothing can be kept.
  [[nodiscard]] std::string note_of(const std::string& words, std::int64_t now_ns) const;

  SeriesPlan plan_;
  std::string request_, path_;
  std::vector<std::string> tools_;
  std::string inputs_mark_;  ///< when this was made; empty: a folder was not readable
};

}  // namespace swingloss
