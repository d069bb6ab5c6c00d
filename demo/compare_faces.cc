// SPDX-License-Identifier: Apache-2.0
#include "compare_faces.h"

#include <algorithm>
#include <cmath>
#include <iostream>

namespace swingloss::demo {
namespace {

/// One photographed bar: what its faces gave beside what was rendered.
struct FaceTally {
  int bars = 0, sizes = 0, wrong = 0, right = 0, silent = 0, misjudged = 0;
  double sum_of_squared_scores = 0.0, worst_mm = 0.0;
};

/// The verdict with the highest probability over a bar's faces; empty: cannot tell.
std::string verdict_of(const json& surface) {
  std::string verdict;
  double most = 0.0;
  for (const json& photo : surface.at("photos")) {
    for (const json& face : photo.at("faces")) {
      const json& said = face.at("judgement").at("verdict");
      if (!said.is_string()) continue;
      const double p = face.at("judgement").at("probability").at(said.get<std::string>());
      if (p > most) verdict = said.get<std::string>();
      most = std::max(most, p);
    }
  }
  return verdict;
}

/// Error of one size over a bar's faces, and its scores into the tally.
std::string size_errors(const json& surface,
                        const json& truth,
                        const char* key,
                        FaceTally& tally) {
  std::string words;
  for (const json& photo : surface.at("photos")) {
    for (const json& face : photo.at("faces")) {
      const json& section = face.at("section");
      if (!section.is_object() || !face.at("notch_found").get<bool>()) continue;
      const auto measured = estimate(section, key);
      if (!measured) continue;
      const double off_mm = measured->value - truth.at(key).get<double>();
      const double score = off_mm / measured->u;
      ++tally.sizes;
      tally.wrong += std::abs(score) > kLimit_in_u ? 1 : 0;
      tally.sum_of_squared_scores += score * score;
      tally.worst_mm = std::max(tally.worst_mm, std::abs(off_mm));
      words += (words.empty() ? "" : " ") + fixed(off_mm, 3, true);
    }
  }
  return words.empty() ? "-" : words;
}

FaceTally print_faces(const std::string& series) {
  FaceTally tally;
  const json truth = read_json(series + "/truth.json");
  for (const json& bar : truth.at("bars")) {
    const json photo = bar.value("photo", json());
    const std::string id = bar.at("id").get<std::string>();
    const std::string path = series + "/results/surfaces/" + id + ".json";
    if (!photo.is_object()) continue;
    if (tally.bars++ == 0) {
      std::cout << "\nRendered photographs of the halves (off = measured - true in mm, a half "
                   "each)\n\n";
      std::cout << std::left << std::setw(12) << "bar"
                << "  " << std::setw(24) << "h off"
                << "  " << std::setw(24) << "b_N off"
                << "  " << std::setw(11) << "true look"
                << "  judged\n";
    }
    const json surface = is_there(path) ? read_json(path) : json{{"photos", json::array()}};
    const std::string h = size_errors(surface, photo, "thickness_mm", tally);
    const std::string b = size_errors(surface, photo, "width_mm", tally);
    const std::string judged = verdict_of(surface);
    const std::string look = photo.at("look").get<std::string>();
    tally.silent += judged.empty() ? 1 : 0;
    tally.right += judged == look ? 1 : 0;
    tally.misjudged += !judged.empty() && judged != look ? 1 : 0;
    std::cout << std::left << std::setw(12) << id << "  " << std::setw(24) << h << "  "
              << std::setw(24) << b << "  " << std::setw(11) << look << "  "
              << (judged.empty() ? "cannot tell" : judged) << '\n';
  }
  return tally;
}

bool conclude_faces(const FaceTally& tally) {
  if (tally.bars == 0) return true;
  std::cout << '\n' << tally.bars << " photographs: ";
  if (tally.sizes > 0) {
    std::cout << tally.sizes << " sizes, the worst " << fixed(tally.worst_mm, 3)
              << " mm off, root mean square of off / u "
              << fixed(std::sqrt(tally.sum_of_squared_scores / tally.sizes), 2) << "; ";
  }
  std::cout << "look: " << tally.right << " judged right, " << tally.misjudged << " wrong, "
            << tally.silent << " cannot tell.\n";
  if (tally.wrong > 0)
    std::cout << tally.wrong << " sizes are farther off than " << kLimit_in_u << " u.\n";
  return tally.wrong == 0;
}

}  // namespace

bool compare_faces(const std::string& series) { return conclude_faces(print_faces(series)); }

}  // namespace swingloss::demo
