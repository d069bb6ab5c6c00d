// SPDX-License-Identifier: Apache-2.0
#include "core/input_error.h"
#include "core/number_text.h"
#include "desk/desk.h"
#include "desk/desk_json.h"
#include "series/add_specimen.h"
#include "series/correct_bar.h"
#include "series/outline_section.h"
#include "series/read_specimens.h"
#include "series/series_plan.h"

#include <algorithm>
#include <filesystem>

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::json;

DeskReply json_reply(const Json& json, int status = 200) {
  DeskReply reply;
  reply.status = status;
  reply.type = "application/json";
  reply.body = json.dump(-1, ' ', false, Json::error_handler_t::replace);
  return reply;
}

[[noreturn]] void refuse(const std::string& found, const std::string& wanted) {
  throw InputError({"", "", found, wanted, "Reload the page and try again."});
}

/// The body as an object; its fields are read by `read`, whose faults become ours.
template <typename Read>
auto from_body(const DeskRequest& request, const Read& read) {
  try {
    const Json json = request.body.empty() ? Json::object() : Json::parse(request.body);
    return read(json);
  } catch (const Json::exception& error) {
    refuse(std::string("a request that cannot be read (") + error.what() + ")",
           "what the desk's own pages send");
  }
}

SectionCorners corners_of(const Json& json) {
  const auto points = json.at("corners_px").get<std::vector<std::array<double, 2>>>();
  if (points.size() != 4)
    refuse(std::to_string(points.size()) + " corners", "the four corners of the section");
  SectionCorners corners;
  for (std::size_t i = 0; i < corners.size(); ++i) corners[i] = {points[i][0], points[i][1]};
  return corners;
}

/// "known": {"side": "thickness" or "width", "mm": 4, "u_mm": 0.02}, or nothing.
std::optional<KnownSide> known_side_of(const Json& json) {
  if (!json.contains("known")) return {};
  const Json& known = json.at("known");
  const auto side = known.at("side").get<std::string>();
  KnownSide read;
  read.is_thickness = side == "thickness";
  read.length_mm = known.at("mm").get<double>();
  read.u_mm = known.at("u_mm").get<double>();
  if (!read.is_thickness && side != "width")
    refuse("a known side \"" + side + "\"", "thickness or width");
  if (!(read.length_mm > 0.1 && read.length_mm < 500.0 && read.u_mm > 0.0))
    refuse("a known side of " + number_text(read.length_mm) + " mm with u " +
               number_text(read.u_mm) + " mm",
           "a length from 0.1 to 500 mm with an uncertainty above zero");
  return read;
}

/// What is asked of one photograph.
struct OutlineWish {
  std::string photo;
  SectionCorners corners;
  OutlineOptions options;  ///< but for the ruler, which the series knows
};

OutlineWish outline_wish_of(const Json& json) {
  OutlineWish read;
  read.photo = json.at("photo").get<std::string>();
  read.corners = corners_of(json);
  read.options.u_px = std::clamp(json.value("u_px", read.options.u_px), 0.1, 100.0);
  read.options.known = known_side_of(json);
  return read;
}

}  // namespace

DeskReply Desk::run(const DeskRequest& request) {
  const RunWish wish = from_body(request, [](const Json& json) {
    RunWish read;
    read.fresh = json.value("fresh", false);
    read.fresh_bars = json.value("bars", std::set<std::string>());
    return read;
  });
  workshop_.want(wish);
  return json_reply(Json::object(), 202);
}

DeskReply Desk::stop() {
  workshop_.stop();
  return json_reply(Json::object(), 202);
}

/// The report is written anew with the film in it; bars that are measured are not measured
/// again.
DeskReply Desk::film(const DeskRequest& request) {
  const RunWish wish = from_body(request, [](const Json& json) {
    RunWish read;
    read.films = {json.at("bar").get<std::string>()};
    read.sound = json.value("sound", false);
    return read;
  });
  const std::string& id = *wish.films.begin();
  const auto result = workshop_.result();
  const bool filmed =
      result &&
      std::any_of(result->bars.begin(), result->bars.end(), [&](const BarResult& bar) {
        return bar.specimen.id == id && bar.swing && !bar.specimen.clip.empty();
      });
  if (!filmed) refuse("no measured clip of a bar " + id, "a bar whose clip was measured");
  workshop_.want(wish);
  return json_reply(Json::object(), 202);
}

/// What stands there without the correction to come: under one of the same kind, what that one
/// replaced.
std::string Desk::automatic_words(const Correction& correction) const {
  const auto result = workshop_.result();
  const SeriesPlan plan = read_series(options_.folder);
  if (correction.kind == CorrectionKind::GroupBy) return grouping_words(plan.ranking);
  if (!result) return "not measured yet";
  for (const BarResult& bar : result->bars) {
    if (bar.specimen.id != correction.bar) continue;
    for (const AppliedCorrection& applied : bar.corrections) {
      if (applied.correction.kind == correction.kind) return applied.automatic;
    }
    return value_words(correction.kind, bar, plan.section_u_mm);
  }
  return "not measured yet";
}

DeskReply Desk::correct(const DeskRequest& request) {
  Correction correction = parse_correction(request.body, "correction");
  const auto rows = read_specimens(
      (std::filesystem::path(options_.folder) / "specimens.csv").string(), options_.folder);
  const bool known = std::any_of(rows.begin(), rows.end(), [&](const SpecimenRow& row) {
    return row.specimen.id == correction.bar;
  });
  if (!known && correction.kind != CorrectionKind::GroupBy)
    refuse("no bar " + correction.bar, "a bar of this series");
  correction.automatic = automatic_words(correction);
  correction.when = options_.now();
  {
    const std::lock_guard<std::mutex> lock(corrections_mutex_);
    std::vector<Correction> all = read_corrections(options_.folder);
    for (const Correction& each : all)
      correction.number = std::max(correction.number, each.number);
    ++correction.number;
    all.push_back(correction);
    write_corrections(options_.folder, all);
  }
  workshop_.want({});
  return json_reply({{"number", correction.number}}, 201);
}

DeskReply Desk::undo(const DeskRequest& request) {
  const int number =
      from_body(request, [](const Json& json) { return json.at("number").get<int>(); });
  {
    const std::lock_guard<std::mutex> lock(corrections_mutex_);
    std::vector<Correction> all = read_corrections(options_.folder);
    const auto found = std::find_if(
        all.begin(), all.end(), [&](const Correction& each) { return each.number == number; });
    if (found == all.end() || !found->undone.empty())
      refuse("no correction " + std::to_string(number) + " that stands",
             "the number of one that does");
    found->undone = options_.now();
    write_corrections(options_.folder, all);
  }
  workshop_.want({});
  return json_reply(Json::object());
}

DeskReply Desk::outline(const DeskRequest& request) const {
  const OutlineWish wish = from_body(request, outline_wish_of);
  const auto rows = read_specimens(
      (std::filesystem::path(options_.folder) / "specimens.csv").string(), options_.folder);
  const bool known = std::any_of(rows.begin(), rows.end(), [&](const SpecimenRow& row) {
    const auto& photos = row.specimen.photos;
    return std::find(photos.begin(), photos.end(), wish.photo) != photos.end();
  });
  if (!known)
    refuse("no photograph " + wish.photo, "a photograph that a bar of this series names");
  OutlineOptions options = wish.options;
  options.ruler_mm = read_series(options_.folder).ruler_mm;
  const auto sized = size_of_outline(
      path_in_series(options_.folder, wish.photo, "photos"), wish.corners, options);
  if (!sized.ok()) return json_reply({{"error", sentences_of(sized.failure())}}, 422);
  return json_reply({{"thickness_mm", sized.value().thickness_mm},
                     {"width_mm", sized.value().width_mm},
                     {"u_mm", sized.value().u_mm}});
}

DeskReply Desk::add_bar(const DeskRequest& request) {
  const SpecimenFields fields = from_body(request, [](const Json& json) {
    SpecimenFields read;
    for (const std::string& column : specimen_columns()) {
      if (json.contains(column)) read.emplace_back(column, json.at(column).get<std::string>());
    }
    return read;
  });
  const std::lock_guard<std::mutex> lock(corrections_mutex_);
  add_specimen(options_.folder, fields);
  workshop_.want({});
  return json_reply(Json::object(), 201);
}

std::unique_ptr<Upload> Desk::upload(const DeskRequest& request) const {
  const auto text = [&](const char* name) {
    const auto found = request.query.find(name);
    return found == request.query.end() ? std::string() : found->second;
  };
  return std::make_unique<Upload>(options_.folder, text("shelf"), text("name"));
}

}  // namespace swingloss
