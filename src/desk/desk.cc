// SPDX-License-Identifier: Apache-2.0
#include "desk/desk.h"

#include "core/angle.h"
#include "core/input_error.h"
#include "core/number_text.h"
#include "core/text_file.h"
#include "desk/desk_json.h"
#include "desk/web_files.h"
#include "report/plan_json.h"
#include "report/results_json.h"
#include "series/followed_clip.h"
#include "series/swing_json.h"

#include <algorithm>
#include <exception>
#include <filesystem>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

DeskReply json_reply(std::string json, int status = 200) {
  DeskReply reply;
  reply.status = status;
  reply.type = "application/json";
  reply.body = std::move(json);
  return reply;
}

DeskReply not_there() { return json_reply(error_json("There is no such thing here."), 404); }

DeskReply jpeg_reply(std::string bytes) {
  if (bytes.empty()) return not_there();
  DeskReply reply;
  reply.type = "image/jpeg";
  reply.body = std::move(bytes);
  return reply;
}

std::string query_of(const DeskRequest& request, const std::string& name) {
  const auto found = request.query.find(name);
  return found == request.query.end() ? std::string() : found->second;
}

std::optional<double> number_of(const DeskRequest& request, const std::string& name) {
  return parse_number(query_of(request, name));
}

const SpecimenRow* row_of(const SeriesView& view, const std::string& id) {
  const auto found =
      std::find_if(view.rows.begin(), view.rows.end(), [&](const SpecimenRow& row) {
        return row.specimen.id == id;
      });
  return found == view.rows.end() ? nullptr : &*found;
}

/// By the stored record of a swing, if there is one that can be read.
Followed how_followed_in(const std::string& record_path) {
  try {
    return how_followed(parse_swing_json(read_file(record_path), record_path).record);
  } catch (const InputError&) {
    return {};  // not there yet; or the run will measure it again, and say so
  }
}

std::string stored_swing_path(const SeriesPlan& plan, const std::string& id) {
  return (fs::path(results_folder(plan)) / "swings" / (id + ".json")).string();
}

}  // namespace

Desk::Desk(DeskOptions options)
    : options_(std::move(options)), workshop_(options_.folder, options_.jobs) {
  if (!fs::is_directory(options_.folder)) (void)read_series(options_.folder);
  run_if_stored();
}

Desk::~Desk() = default;

void Desk::run_if_stored() {
  const SeriesView seen = view();
  const bool all = std::all_of(seen.rows.begin(), seen.rows.end(), [&](const SpecimenRow& row) {
    return row.problem || row.specimen.clip.empty() ||
           is_there(stored_swing_path(seen.plan, row.specimen.id));
  });
  if (all && !seen.rows.empty()) workshop_.want({});
}

SeriesView Desk::view() const {
  SeriesView seen;
  seen.plan.folder = options_.folder;
  seen.plan.title = fs::path(options_.folder).filename().string();
  try {
    seen.plan = read_series(options_.folder);
    seen.corrections = read_corrections(options_.folder);
    seen.rows =
        read_specimens((fs::path(options_.folder) / "specimens.csv").string(), options_.folder);
  } catch (const InputError& error) {
    seen.fault = error.what();
  }
  seen.work = workshop_.state();
  seen.result = workshop_.result();
  return seen;
}

DeskReply Desk::answer(const DeskRequest& request) {
  try {
    return dispatch(request);
  } catch (const InputError& error) {
    return json_reply(error_json(error.what()), 400);
  } catch (const std::exception& error) {
    return json_reply(
        error_json(std::string("An internal fault (") + error.what() + "). Please report it."),
        500);
  }
}

DeskReply Desk::dispatch(const DeskRequest& request) {
  const std::string what = request.method + " " + request.path;
  if (what == "GET /api/series") return json_reply(series_view_json(view()));
  if (what == "GET /api/work") return json_reply(work_json(workshop_.state()));
  if (what == "GET /api/bar") return bar_data(request);
  if (what == "GET /api/clip") return clip(request);
  if (what == "GET /api/results") return results();
  if (what == "GET /api/plan") return plan(request);
  if (what == "GET /frame") return frame(request);
  if (what == "GET /photo") return photo(request);
  if (what == "POST /api/run") return run(request);
  if (what == "POST /api/stop") return stop();
  if (what == "POST /api/film") return film(request);
  if (what == "POST /api/corrections") return correct(request);
  if (what == "POST /api/undo") return undo(request);
  if (what == "POST /api/outline") return outline(request);
  if (what == "POST /api/bars") return add_bar(request);
  const std::string results_path = "/results/";
  if (what.rfind("GET " + results_path, 0) == 0)
    return result_file(request.path.substr(results_path.size()));
  if (request.method != "GET") return not_there();
  const WebFile* file = find_web_file(request.path);
  if (file == nullptr) return not_there();
  DeskReply reply;
  reply.type = file->type;
  reply.body = file->text;
  return reply;
}

DeskReply Desk::bar_data(const DeskRequest& request) const {
  const SeriesView seen = view();
  const SpecimenRow* row = row_of(seen, query_of(request, "id"));
  if (row == nullptr) return not_there();
  const std::string path = stored_swing_path(seen.plan, row->specimen.id);
  const bool has_clip = !row->specimen.clip.empty() && is_there(path);
  return json_reply(bar_view_json(seen, *row, has_clip ? read_file(path) : ""));
}

/// The clip that a request means, kept open for the next request; null: there is none.
std::shared_ptr<ClipPictures> Desk::pictures_of(const DeskRequest& request) {
  const SeriesView seen = view();
  const SpecimenRow* row = row_of(seen, query_of(request, "bar"));
  if (row == nullptr || row->specimen.clip.empty()) return nullptr;
  const std::string clip = path_in_series(options_.folder, row->specimen.clip, "clips");
  const std::string record = stored_swing_path(seen.plan, row->specimen.id);
  // Once a clip is measured, its pictures are shown as they were followed.
  const std::string wanted = clip + (is_there(record) ? " followed" : "");
  const std::lock_guard<std::mutex> lock(pictures_mutex_);
  if (pictures_of_ != wanted || !pictures_) {
    ReadOptions options;
    options.colour = true;
    pictures_ =
        std::make_shared<ClipPictures>(followed_clip(clip, how_followed_in(record), options));
    pictures_of_ = wanted;
  }
  return pictures_;
}

DeskReply Desk::frame(const DeskRequest& request) {
  const auto number = number_of(request, "n");
  const auto pictures = number ? pictures_of(request) : nullptr;
  if (!pictures) return not_there();
  return jpeg_reply(pictures->jpeg(static_cast<int>(std::clamp(*number, -1.0, 1e6))));
}

DeskReply Desk::clip(const DeskRequest& request) {
  const auto pictures = pictures_of(request);
  return pictures ? json_reply(clip_json(pictures->facts())) : not_there();
}

DeskReply Desk::photo(const DeskRequest& request) const {
  constexpr int kMost_px = 1400;
  const SeriesView seen = view();
  const SpecimenRow* row = row_of(seen, query_of(request, "bar"));
  if (row == nullptr) return not_there();
  const auto& photos = row->specimen.photos;
  const std::string name = query_of(request, "name");
  if (std::find(photos.begin(), photos.end(), name) == photos.end()) return not_there();
  PhotoPicture picture =
      photo_picture(path_in_series(options_.folder, name, "photos"), kMost_px);
  DeskReply reply = jpeg_reply(std::move(picture.jpeg));
  reply.headers["X-Width"] = std::to_string(picture.width_px);
  reply.headers["X-Height"] = std::to_string(picture.height_px);
  return reply;
}

/// A page of ours has its pictures and styles in itself; its policy says so and no more.
DeskReply Desk::result_file(const std::string& path) const {
  const std::string file =
      file_in_results((fs::path(options_.folder) / "results").string(), path);
  if (file.empty()) return not_there();
  DeskReply reply;
  reply.type = media_type_of(file);
  reply.body = read_file(file);
  if (reply.type.rfind("text/html", 0) == 0 || reply.type == "image/svg+xml") {
    reply.headers["Content-Security-Policy"] =
        "default-src 'none'; img-src 'self' data:; style-src 'unsafe-inline'; base-uri 'none'; "
        "form-action 'none'; frame-ancestors 'none'";
  }
  return reply;
}

DeskReply Desk::results() const {
  const auto result = workshop_.result();
  return result ? json_reply(results_json(*result)) : not_there();
}

DeskReply Desk::plan(const DeskRequest& request) const {
  PlanRequest wanted;
  const SeriesView seen = view();
  if (seen.result && seen.result->ranking) wanted.source = options_.folder;
  const fs::path rig = fs::path(options_.folder) / seen.plan.rig;
  if (is_there(rig.string())) wanted.rigs = {rig.string()};
  if (const auto cv = number_of(request, "cv")) wanted.cv = *cv / 100.0;
  if (const auto difference = number_of(request, "difference"))
    wanted.question.differences = {*difference / 100.0};
  wanted.expected_low_J = number_of(request, "low_J");
  wanted.expected_high_J = number_of(request, "high_J");
  if (const auto release_deg = number_of(request, "release_deg"))
    wanted.release_most_rad = Angle::from_deg(std::clamp(*release_deg, 5.0, 179.0)).rad();
  return json_reply(plan_json(plan_ahead(wanted)));
}

}  // namespace swingloss
