// SPDX-License-Identifier: Apache-2.0
#include "support/run_program.h"
#include "support/test.h"

#include <nlohmann/json.hpp>

using namespace swingloss;
using Catch::Contains;
using test::run_program;
using test::TempFolder;

namespace {

constexpr const char* kHead = "id,material,condition,rig,energy_J,limit,tested_on\n";

// Two materials as made and annealed, bars that held among them.
const std::string kTwoByTwo =
    std::string(kHead) +
    "A1,Korvel,as-made,,1.02,,\nA2,Korvel,as-made,,0.98,,\nA3,Korvel,as-made,,1.05,,\n"
    "A4,Korvel,as-made,,1.01,,\nB1,Korvel,annealed,,2.52,,\nB2,Korvel,annealed,,2.48,,\n"
    "B3,Korvel,annealed,,2.40,,\nB4,Korvel,annealed,,2.6,>,\nC1,Morna,as-made,,1.00,,\n"
    "C2,Morna,as-made,,1.03,,\nC3,Morna,as-made,,0.99,,\nC4,Morna,as-made,,1.02,,\n"
    "D1,Morna,annealed,,1.21,,\nD2,Morna,annealed,,1.19,,\nD3,Morna,annealed,,1.24,,\n";

nlohmann::json ranked(const std::string& table, const std::vector<std::string>& more = {}) {
  const TempFolder folder;
  folder.write("values.csv", table);
  std::vector<std::string> words = {"rank", "values.csv", "--json", "-"};
  words.insert(words.end(), more.begin(), more.end());
  const auto end = run_program(words, folder.path());
  CAPTURE(end.err);
  REQUIRE(end.status == 0);
  return nlohmann::json::parse(end.out);
}

const nlohmann::json& group_of(const nlohmann::json& json, const std::string& name) {
  for (const auto& group : json.at("groups")) {
    if (group.at("name") == name) return group;
  }
  throw std::runtime_error("no group " + name);
}

}  // namespace

TEST_CASE("rank tells effects, pairs, limits and what to improve", "[cli]") {
  const TempFolder folder;
  folder.write("values.csv", kTwoByTwo);
  const auto end = run_program({"rank", "values.csv"}, folder.path());
  CHECK(end.status == 0);
  CHECK_THAT(end.out,
             Contains("Effect of condition and orientation") && Contains("Every pair") &&
                 Contains("within 10") && Contains("by Kaplan-Meier") &&
                 Contains("Worth improving next") && Contains("place  group"));
}

TEST_CASE("a margin decides what is no big difference", "[cli]") {
  const auto found_equal = [](const nlohmann::json& json) {
    int count = 0;
    for (const auto& pair : json.at("comparisons")) count += pair.at("equivalent") ? 1 : 0;
    return count;
  };
  CHECK(found_equal(ranked(kTwoByTwo)) == 1);
  CHECK(found_equal(ranked(kTwoByTwo, {"--within", "0.5"})) > 1);
  CHECK(found_equal(ranked(kTwoByTwo, {"--within", "0.005"})) == 0);
}

TEST_CASE("results hold the product-limit curve of bars that held", "[cli]") {
  const auto json = ranked(kTwoByTwo);
  const auto& curve = group_of(json, "Korvel / annealed").at("kaplan_meier");
  // Four bars, three broken one by one, one held above them all: 3/4, 2/4, 1/4 by the
  // product-limit formula. Products of three quotients, a rounding each.
  REQUIRE(curve.at("steps").size() == 3);
  CHECK_THAT(curve.at("steps").at(0).at("share").get<double>(), test::to_rounding(0.75, 3));
  CHECK_THAT(curve.at("steps").at(2).at("share").get<double>(), test::to_rounding(0.25, 6));
  CHECK(group_of(json, "Morna / as-made").at("kaplan_meier").is_null());
  CHECK(group_of(json, "Morna / as-made").at("grubbs").at("flagged") == false);
  CHECK(group_of(json, "Morna / as-made").at("normal_scores").at("points").size() == 4);
}

TEST_CASE("a reference material ties two instruments together", "[cli]") {
  // The second instrument reads twice as much: after the tie Korvel on it is no tougher.
  const auto json = ranked(std::string(kHead) +
                               "R1,Norvel,,one,1.00,,\nR2,Norvel,,one,1.02,,\n"
                               "R3,Norvel,,one,0.98,,\nR4,Norvel,,two,2.00,,\n"
                               "R5,Norvel,,two,2.04,,\nR6,Norvel,,two,1.96,,\n"
                               "K1,Korvel,,two,2.01,,\nK2,Korvel,,two,2.03,,\n"
                               "K3,Korvel,,two,1.97,,\n",
                           {"--reference", "Norvel"});
  REQUIRE(json.at("ties").size() == 1);
  // Means 1 and 2 by construction: the factor is 1/2 but for the rounding of the sums.
  CHECK_THAT(json.at("ties").at(0).at("factor").get<double>(), test::to_rounding(0.5, 8));
  CHECK(json.at("ties").at(0).at("u_factor") > 0.0);
  CHECK(json.at("comparisons").at(0).at("verdict") == "not resolved");
}

TEST_CASE("bars broken before they had settled are flagged in the ranking", "[cli]") {
  const TempFolder folder;
  folder.write(
      "values.csv",
      std::string(kHead) + "A1,Korvel,,,1.0,,2024-03-05\nA2,Korvel,,,1.1,,2024-03-05\n");
  folder.write("masses.csv",
               "id,material,date,mass_g\nW,Korvel,2024-03-01,10\nW,,2024-03-03,10.2\n"
               "W,,2024-03-09,10.5\n");
  const auto end = run_program({"rank", "values.csv", "--masses", "masses.csv"}, folder.path());
  CHECK(end.status == 0);
  CHECK_THAT(end.out,
             Contains("tested before the mass had settled") && Contains("Conditioning"));
  const auto wrong =
      run_program({"rank", "values.csv", "--masses", "values.csv"}, folder.path());
  CHECK(wrong.status == 2);
}

TEST_CASE("rank draws every bar when asked", "[cli]") {
  const auto json =
      ranked("id,material,energy_J,energy_u_J\nA1,Korvel,1,0.02\nA2,Korvel,1.1,0.02\n",
             {"--monte-carlo"});
  const auto& drawn = json.at("bars").at(0).at("drawn");
  // A typed value has one normal source: 200000 draws know its u to 1/sqrt(400000) of it.
  CHECK_THAT(drawn.at("u").get<double>(), test::to_uncertainty(0.02, 0.02 / 632.0));
  CHECK(drawn.at("differs") == false);
}

TEST_CASE("what to improve next is not guessed where no scatter is known", "[cli]") {
  const TempFolder folder;
  folder.write("values.csv", std::string(kHead) + "A1,Korvel,,,1.0,,\nB1,Morna,,,2.0,,\n");
  const auto single = run_program({"rank", "values.csv"}, folder.path());
  CHECK(single.status == 0);
  CHECK_THAT(single.out, Contains("One bar does not tell"));
  CHECK_THAT(single.out, !Contains("in every group the bars themselves differ most"));
  folder.write("values.csv", kTwoByTwo);
  CHECK_THAT(run_program({"rank", "values.csv"}, folder.path()).out,
             Contains("in every group the bars themselves differ most"));
}

TEST_CASE("the drawn interval of a limit keeps its sign", "[cli]") {
  const TempFolder folder;
  folder.write("values.csv",
               "id,material,energy_J,energy_u_J,limit\nA1,Korvel,1,0.02,\n"
               "A2,Korvel,1.1,0.02,\nA3,Korvel,3,0.02,>\n");
  const auto end = run_program({"rank", "values.csv", "--monte-carlo"}, folder.path());
  CHECK(end.status == 0);
  // Bounds of a normal of u = 0.02 at 95 %: 3 J less or more 0.04.
  CHECK_THAT(end.out, Contains(">\u00A02.96") && !Contains(">\u00A00.96"));
}
