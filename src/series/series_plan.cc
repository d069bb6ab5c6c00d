// SPDX-License-Identifier: Apache-2.0
#include "series/series_plan.h"

#include "core/input_error.h"
#include "core/shell_word.h"
#include "core/text_file.h"
#include "series/json_input.h"

#include <algorithm>
#include <filesystem>

namespace swingloss {
namespace {

namespace fs = std::filesystem;

const std::vector<std::string>& known_fields() {
  static const std::vector<std::string> fields = {"format",
                                                  "title",
                                                  "rig",
                                                  "standard",
                                                  "geometry",
                                                  "label",
                                                  "free_swings",
                                                  "group_by",
                                                  "confidence",
                                                  "quantity",
                                                  "section_u_mm",
                                                  "ruler_mm",
                                                  "within",
                                                  "power",
                                                  "break_types",
                                                  "base_condition",
                                                  "base_orientation",
                                                  "reference_material"};
  return fields;
}

void check_folder(const std::string& folder) {
  if (fs::is_directory(folder)) return;
  const bool exists = is_there(folder);
  throw InputError(
      {folder,
       "",
       exists ? "a file" : "no such folder",
       "a series folder with series.json and specimens.csv",
       exists ? "Name the folder that holds it."
              : "Check the spelling, or make one: swingloss new " + shell_word(folder)});
}

void read_groups(SeriesPlan& plan, const JsonInput& input) {
  const auto names = input.texts("group_by");
  if (!names) return;
  const auto has = [&](const char* name) {
    return std::find(names->begin(), names->end(), name) != names->end();
  };
  for (const std::string& name : *names) {
    if (name == "material" || name == "condition" || name == "orientation") continue;
    input.refuse("group_by",
                 "names out of material, condition, orientation",
                 "Take the other name out; the material always tells groups apart.");
  }
  plan.ranking.by_condition = has("condition");
  plan.ranking.by_orientation = has("orientation");
}

void read_quantity(SeriesPlan& plan, const JsonInput& input) {
  const auto word = input.text("quantity");
  if (!word) return;
  if (*word == "strength") {
    plan.ranking.quantity = Quantity::Strength_kJ_m2;
  } else if (*word == "energy") {
    plan.ranking.quantity = Quantity::Energy_J;
  } else {
    input.refuse("quantity",
                 "\"strength\" or \"energy\"",
                 "Write one of the two, or take the field out: strength where every bar has a "
                 "section, else energy.");
  }
}

/// How groups are compared, beyond confidence and quantity.
void read_comparison(SeriesPlan& plan, const JsonInput& input) {
  RankingOptions& ranking = plan.ranking;
  ranking.equivalence_margin =
      input.number("within", 0.001, 0.999, "a share from 0.001 to 0.999, as 0.10")
          .value_or(ranking.equivalence_margin);
  ranking.power = input.number("power", 0.501, 0.999, "a chance from 0.501 to 0.999, as 0.8")
                      .value_or(ranking.power);
  ranking.base_condition = input.text("base_condition").value_or("");
  ranking.base_orientation = input.text("base_orientation").value_or("");
  ranking.reference_material = input.text("reference_material").value_or("");
  const std::string break_types = input.text("break_types").value_or("apart");
  ranking.pool_break_types = break_types == "pooled";
  if (break_types == "pooled" || break_types == "apart") return;
  input.refuse("break_types",
               "\"apart\" or \"pooled\"",
               "Write one of the two; ISO 179-1 and ISO 180 keep break types apart.");
}

void read_free_swings(SeriesPlan& plan, const JsonInput& input) {
  plan.free_swings = input.texts("free_swings").value_or(plan.free_swings);
  for (const std::string& clip : plan.free_swings) {
    if (is_there(path_in_series(plan.folder, clip, "clips"))) continue;
    input.refuse("free_swings",
                 "clips that are in the folder or its folder clips",
                 "There is no " + clip + ": check the spelling, or copy the clip there.");
  }
}

std::string folder_name(const std::string& folder) {
  const fs::path path = fs::absolute(folder).lexically_normal();
  return (path.has_filename() ? path : path.parent_path()).filename().string();
}

}  // namespace

SeriesPlan read_series(const std::string& folder) {
  check_folder(folder);
  const JsonInput input((fs::path(folder) / "series.json").string(), "swingloss/series/1");
  input.check_fields(known_fields());
  SeriesPlan plan;
  plan.folder = folder;
  plan.title = input.text("title").value_or(folder_name(folder));
  plan.rig = input.text("rig").value_or(plan.rig);
  plan.standard = input.text("standard").value_or("");
  plan.geometry = input.text("geometry").value_or("");
  plan.label = input.text("label").value_or("");
  plan.section_u_mm = input.number("section_u_mm", 0.0, 1.0, "a number of mm from 0 to 1")
                          .value_or(plan.section_u_mm);
  plan.ruler_mm =
      input.number("ruler_mm", 60.0, 100.0, "a number of mm near 80, the ruler's length");
  plan.ranking.confidence =
      input.number("confidence", 0.5, 0.999, "a number from 0.5 to 0.999, as 0.95")
          .value_or(plan.ranking.confidence);
  read_groups(plan, input);
  read_quantity(plan, input);
  read_comparison(plan, input);
  read_free_swings(plan, input);
  return plan;
}

std::string path_in_series(const std::string& folder,
                           const std::string& name,
                           const std::string& shelf) {
  const std::string direct = (fs::path(folder) / name).string();
  const std::string shelved = (fs::path(folder) / shelf / name).string();
  return !is_there(direct) && is_there(shelved) ? shelved : direct;
}

std::string geometry_words(const SeriesPlan& plan) {
  if (plan.standard.empty()) return plan.geometry;
  return "made like " + plan.standard + (plan.geometry.empty() ? "" : ", " + plan.geometry);
}

}  // namespace swingloss
