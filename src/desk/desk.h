// SPDX-License-Identifier: Apache-2.0
/// \file desk.h
/// The desk: a series in the local browser. What it answers, without a socket.
#pragma once

#include "desk/desk_request.h"
#include "desk/uploads.h"
#include "desk/workshop.h"
#include "report/clip_pictures.h"
#include "series/corrections.h"

#include <functional>
#include <memory>
#include <mutex>
#include <string>

namespace swingloss {

struct SeriesView;

struct DeskOptions {
  std::string folder;                ///< a series folder
  int jobs = 0;                      ///< threads of a run; 0 takes the machine's
  std::function<std::string()> now;  ///< UTC, "2026-11-28T18:40:00Z"; the desk has no clock
};

/// Answers the pages, their data, and what a person does on them. Reads the series folder
/// anew for each answer, so that a table edited beside it is seen. Writes corrections.json, and
/// by the run everything else in results/; clips, photos and a row of specimens.csv where a bar
/// is added; nothing else.
///
/// Pages: / all bars, /bar?id=ID, /ranking, /plan. Data: /api/series, /api/work, /api/bar,
/// /api/clip, /api/results, /api/plan, /frame, /photo, /results/... What is done, by POST and
/// JSON: /api/run, /api/stop, /api/film, /api/corrections, /api/undo, /api/outline, /api/bars.
/// Files go through upload().
///
/// Faults of the input are 400 with their five parts as {"error": ...}; what is not there 404.
class Desk {
 public:
  /// Starts a run by itself where nothing has to be measured for it.
  /// \throws InputError  no such folder
  explicit Desk(DeskOptions options);
  ~Desk();

  /// \param request  one that the gate let through (desk/gate.h)
  [[nodiscard]] DeskReply answer(const DeskRequest& request);

  /// A file to come, for PUT /api/upload?shelf=clips&name=NAME.
  /// \throws InputError  as Upload
  [[nodiscard]] std::unique_ptr<Upload> upload(const DeskRequest& request) const;

  [[nodiscard]] Workshop& workshop() { return workshop_; }

 private:
  [[nodiscard]] DeskReply dispatch(const DeskRequest& request);
  [[nodiscard]] SeriesView view() const;
  [[nodiscard]] DeskReply bar_data(const DeskRequest& request) const;
  [[nodiscard]] DeskReply frame(const DeskRequest& request);
  [[nodiscard]] DeskReply photo(const DeskRequest& request) const;
  [[nodiscard]] DeskReply result_file(const std::string& path) const;
  [[nodiscard]] DeskReply results() const;
  [[nodiscard]] DeskReply plan(const DeskRequest& request) const;
  [[nodiscard]] DeskReply clip(const DeskRequest& request);
  [[nodiscard]] std::shared_ptr<ClipPictures> pictures_of(const DeskRequest& request);
  [[nodiscard]] DeskReply run(const DeskRequest& request);
  [[nodiscard]] DeskReply stop();
  [[nodiscard]] DeskReply film(const DeskRequest& request);
  [[nodiscard]] DeskReply correct(const DeskRequest& request);
  [[nodiscard]] DeskReply undo(const DeskRequest& request);
  [[nodiscard]] DeskReply outline(const DeskRequest& request) const;
  [[nodiscard]] DeskReply add_bar(const DeskRequest& request);
  [[nodiscard]] std::string automatic_words(const Correction& correction) const;
  void run_if_stored();

  DeskOptions options_;
  Workshop workshop_;
  std::mutex corrections_mutex_, pictures_mutex_;
  std::string pictures_of_;  ///< clip that pictures_ shows
  std::shared_ptr<ClipPictures> pictures_;
};

}  // namespace swingloss
