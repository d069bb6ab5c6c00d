// SPDX-License-Identifier: Apache-2.0
#include "desk/workshop.h"

#include "report/write_report.h"
#include "series/series_mark.h"

#include <exception>
#include <utility>

namespace swingloss {

const char* name_of(WorkPhase phase) {
  switch (phase) {
    case WorkPhase::Idle:
      return "idle";
    case WorkPhase::Measuring:
      return "measuring";
    case WorkPhase::Writing:
      return "writing";
  }
  return "idle";
}

Workshop::Workshop(std::string folder, int jobs)
    : folder_(std::move(folder)), jobs_(jobs), thread_([this] { work(); }) {}

Workshop::~Workshop() {
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    ending_ = true;
    state_.stopping = true;
  }
  changed_.notify_all();
  thread_.join();
}

void Workshop::want(const RunWish& wish) {
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    wish_.fresh = wish_.fresh || wish.fresh;
    wish_.fresh_bars.insert(wish.fresh_bars.begin(), wish.fresh_bars.end());
    wish_.films.insert(wish.films.begin(), wish.films.end());
    wish_.sound = wish_.sound || wish.sound;
    wanted_ = true;
    state_.waiting = true;
  }
  changed_.notify_all();
}

void Workshop::stop() {
  const std::lock_guard<std::mutex> lock(mutex_);
  if (wanted_) state_.stopped = true;
  wish_ = {};
  wanted_ = state_.waiting = false;
  state_.stopping = state_.phase == WorkPhase::Measuring;
}

WorkState Workshop::state() const {
  const std::lock_guard<std::mutex> lock(mutex_);
  return state_;
}

std::shared_ptr<const SeriesResult> Workshop::result() const {
  const std::lock_guard<std::mutex> lock(mutex_);
  return result_;
}

void Workshop::wait_until_idle() {
  std::unique_lock<std::mutex> lock(mutex_);
  changed_.wait(lock, [this] { return !wanted_ && state_.phase == WorkPhase::Idle; });
}

void Workshop::work() {
  std::unique_lock<std::mutex> lock(mutex_);
  for (;;) {
    changed_.wait(lock, [this] { return wanted_ || ending_; });
    if (ending_) return;
    const RunWish wish = std::exchange(wish_, {});
    wanted_ = false;
    state_.waiting = false;
    state_.phase = WorkPhase::Measuring;
    state_.done = state_.count = 0;
    state_.bars.clear();
    state_.fault.clear();
    state_.stopped = false;
    lock.unlock();
    std::string fault;
    bool stopped = false;
    try {
      run_once(wish);
    } catch (const RunStopped&) {
      stopped = true;
    } catch (const InputError& error) {
      fault = error.what();
    } catch (const std::exception& error) {
      fault = std::string("An internal fault (") + error.what() +
              "). Please report it with the series.";
    }
    lock.lock();
    state_.fault = fault;
    state_.stopped = stopped;
    state_.stopping = ending_;
    state_.phase = WorkPhase::Idle;
    changed_.notify_all();
  }
}

void Workshop::run_once(const RunWish& wish) {
  RunOptions options;
  options.jobs = jobs_;
  options.fresh = wish.fresh;
  options.fresh_bars.assign(wish.fresh_bars.begin(), wish.fresh_bars.end());
  options.progress = [this](const BarProgress& progress) {
    const std::lock_guard<std::mutex> lock(mutex_);
    state_.done = progress.done;
    state_.count = progress.count;
    state_.bars[progress.id] = progress.measured;
  };
  options.stopped = [this] {
    const std::lock_guard<std::mutex> lock(mutex_);
    return state_.stopping;
  };
  const SeriesPlan plan = read_series(folder_);
  const auto result = std::make_shared<const SeriesResult>(run_series(plan, options));
  {
    const std::lock_guard<std::mutex> lock(mutex_);
    result_ = result;
    ++state_.finished;
    state_.phase = WorkPhase::Writing;
    state_.stopping = ending_;
  }
  ReportOptions report;
  report.jobs = jobs_;
  report.strip_of = [&](const BarResult& bar) {
    return strip_frames(*bar.swing, path_in_series(folder_, bar.specimen.clip, "clips"));
  };
  report.source_mark = series_mark(plan);
  report.redraw = wish.fresh;
  report.films = wish.films;
  report.sound = wish.sound;
  ReportFiles written = write_report(*result, results_folder(plan), report);
  const std::lock_guard<std::mutex> lock(mutex_);
  for (auto& [id, words] : written.film_words) state_.films[id] = std::move(words);
}

}  // namespace swingloss
