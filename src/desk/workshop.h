// SPDX-License-Identifier: Apache-2.0
/// \file workshop.h
/// The desk's runs, one after another, beside the pages.
#pragma once

#include "series/run_series.h"

#include <condition_variable>
#include <map>
#include <memory>
#include <mutex>
#include <set>
#include <string>
#include <thread>

namespace swingloss {

/// What a run is to do; several wishes that wait are one run.
struct RunWish {
  bool fresh = false;                ///< measure every clip again
  std::set<std::string> fresh_bars;  ///< or those of these bars
  std::set<std::string> films;       ///< bars whose film is made (report/bar_film.h)
  bool sound = false;                ///< these films keep their clips' sound
};

enum class WorkPhase { Idle, Measuring, Writing };

/// "idle", "measuring", "writing".
[[nodiscard]] const char* name_of(WorkPhase phase);

struct WorkState {
  WorkPhase phase = WorkPhase::Idle;
  bool waiting = false;   ///< another run follows this one
  bool stopping = false;  ///< the run under way ends when the bars in work are done
  bool stopped = false;   ///< the last run was ended so, and gave nothing
  std::size_t done = 0, count = 0;
  std::map<std::string, bool> bars;          ///< of this run: id, measured or refused
  std::string fault;                         ///< why the last run gave nothing; empty: it did
  int finished = 0;                          ///< runs that gave a result
  std::map<std::string, std::string> films;  ///< what was said of films that were asked for
};

/// Runs a series on a thread of its own: reads the folder anew, measures, ranks, and writes the
/// report. The result is there as soon as it is ranked, before the report is written.
class Workshop {
 public:
  /// \param jobs  threads of a run; 0 takes the machine's
  Workshop(std::string folder, int jobs);
  Workshop(const Workshop&) = delete;
  Workshop& operator=(const Workshop&) = delete;
  /// Waits for the bars in work.
  ~Workshop();

  /// Starts a run, or has one follow the run under way.
  void want(const RunWish& wish);
  /// Ends the run under way as soon as the bars in work are done, and drops what waits. What
  /// was measured stays stored. A report that is being written is written to its end.
  void stop();
  [[nodiscard]] WorkState state() const;
  /// Of the last run that gave one; null before.
  [[nodiscard]] std::shared_ptr<const SeriesResult> result() const;
  /// Returns when nothing is under way and nothing waits.
  void wait_until_idle();

 private:
  void work();
  void run_once(const RunWish& wish);

  std::string folder_;
  int jobs_;
  mutable std::mutex mutex_;
  std::condition_variable changed_;
  WorkState state_;
  RunWish wish_;
  bool wanted_ = false, ending_ = false;
  std::shared_ptr<const SeriesResult> result_;
  std::thread thread_;
};

}  // namespace swingloss
