// SPDX-License-Identifier: Apache-2.0
#include "series/table_doubts.h"

#include "series/conclude.h"
#include "series/table_input.h"
#include "support/temp_folder.h"
#include "support/test.h"
#include "swing_samples.h"

#include <algorithm>
#include <filesystem>

using namespace swingloss;
using Catch::Contains;
using test::TempFolder;

namespace {

/// Text of the only remark of that code; empty when there is none.
std::string said(const Remarks& remarks, const std::string& code, Severity severity) {
  std::string text;
  for (const Remark& remark : remarks) {
    if (remark.code != code) continue;
    CHECK(text.empty());
    CHECK(remark.severity == severity);
    text = remark.text;
  }
  return text;
}

std::string warned(const Remarks& remarks, const std::string& code) {
  return said(remarks, code, Severity::Warning);
}

Remarks doubts(const TempFolder& folder, const std::string& table) {
  return doubts_of_table(read_specimens(folder.write("bars.csv", table), folder.path()),
                         folder.path());
}

Remarks doubts_of_values(const std::string& table) {
  const TempFolder folder;
  return rank_table(folder.write("values.csv", table)).remarks;
}

}  // namespace

TEST_CASE("a size ten times the others' is asked about and used", "[series]") {
  const std::string rows =
      "A1,K,4.02,8.01,1\nA2,K,4.00,8.03,1.1\nA3,K,40.2,8.02,1.2\nA4,K,4.01,0.802,1.3\n";
  const Remarks remarks =
      doubts_of_values("id,material,thickness_mm,width_mm,energy_J\n" + rows);
  CHECK(remarks.size() == 2);
  const auto text = [&](const std::string& column) {
    const auto found = std::find_if(remarks.begin(), remarks.end(), [&](const Remark& remark) {
      return remark.text.rfind(column, 0) == 0;
    });
    return found == remarks.end() ? "" : found->text;
  };
  CHECK_THAT(text("thickness_mm"), Contains("A3 (40.2) is far from the usual 4.02 mm"));
  CHECK_THAT(text("width_mm"), Contains("A4 (0.802) is far from the usual 8.02 mm"));
}

TEST_CASE("sizes as bars of one drawing have them raise no doubt", "[series]") {
  CHECK(doubts_of_values("id,material,thickness_mm,width_mm,energy_J\nA1,K,4,8,1\n"
                         "A2,K,3.2,8.6,1\nA3,K,4.8,10,1\n")
            .empty());
}

TEST_CASE("one missing width that turns strengths into energies is said", "[series]") {
  const std::string head = "id,material,thickness_mm,width_mm,energy_J\n";
  const std::string text =
      warned(doubts_of_values(head + "A1,K,4,8,1\nA2,K,4,8,1.1\nA3,K,4,,1.2\n"),
             "unit-by-missing-section");
  CHECK_THAT(text, Contains("missing for A3.") && Contains("J, not by strength in kJ/m"));
  CHECK(doubts_of_values(head + "A1,K,4,,1\nA2,K,,8,1.1\n").empty());
  CHECK(doubts_of_values(head + "A1,K,4,8,1\nA2,K,4,8,1.1\n").empty());
  TableOptions asked;
  asked.ranking.quantity = Quantity::Energy_J;
  const TempFolder folder;
  CHECK(rank_table(folder.write("v.csv", head + "A1,K,4,8,1\nA2,K,4,,1.1\n"), asked)
            .remarks.empty());
}

TEST_CASE("two bars with one clip are named, by path, link or content", "[series]") {
  const TempFolder folder;
  folder.write("clips/a.mp4", "first film");
  folder.write("clips/b.mp4", "other film");
  folder.write("clips/copy.mp4", "first film");
  std::filesystem::create_symlink("b.mp4", folder / "clips/link.mp4");
  const std::string head = "id,material,clip\n";
  for (const char* second : {"a.mp4", "clips/a.mp4", "clips/../clips/a.mp4", "copy.mp4"}) {
    CAPTURE(second);
    const Remarks remarks =
        doubts(folder, head + "K1,M,a.mp4\nK2,M,b.mp4\nK3,M," + second + "\n");
    CHECK_THAT(warned(remarks, "same-clip"),
               Contains("K1 (a.mp4) and K3 (" + std::string(second) + ")") && !Contains("K2"));
  }
  CHECK_THAT(warned(doubts(folder, head + "K1,M,b.mp4\nK2,M,link.mp4\n"), "same-clip"),
             Contains("K1 (b.mp4) and K2 (link.mp4)"));
  CHECK(
      doubts(folder, head + "K1,M,a.mp4\nK2,M,b.mp4\nK3,M,gone.mp4\nK4,M,gone.mp4\n").empty());
}

TEST_CASE("an energy typed beside a clip is said to be unused", "[series]") {
  const TempFolder folder;
  folder.write("clips/a.mp4", "x");
  const Remarks remarks =
      doubts(folder, "id,material,clip,energy_J\nK1,M,a.mp4,1.2\nK2,M,,1.3\n");
  CHECK(remarks.size() == 1);
  CHECK_THAT(said(remarks, "typed-energy-unused", Severity::Note),
             Contains("K1") && !Contains("K2"));
}

TEST_CASE("a date that no calendar has is said", "[series]") {
  const std::string head = "id,material,energy_J,tested_on\n";
  CHECK_THAT(
      warned(doubts_of_values(head + "A1,K,1,2026-02-31\nA2,K,1,2026-02-28\n"), "date-unread"),
      Contains("tested_on of A1 (2026-02-31) is no day") && !Contains("A2"));
  CHECK_THAT(warned(doubts_of_values(head + "A1,K,1,last week\n"), "date-unread"),
             Contains("last week"));
  CHECK_THAT(said(doubts_of_values(head + "A1,K,1,12.3.2024\n"), "date-form", Severity::Note),
             Contains("A1 (12.3.2024)"));
  CHECK_THAT(said(doubts_of_values(head + "A1,K,1,2024-3-1\n"), "date-form", Severity::Note),
             Contains("A1 (2024-3-1)"));
  // A day counted from any start, as masses.csv may count.
  CHECK(doubts_of_values(head + "A1,K,1,14\n").empty());
}

TEST_CASE("a photo that is not there is said", "[series]") {
  const TempFolder folder;
  folder.write("photos/a.jpg", "x");
  folder.write("photos/b.jpg", "x");
  const std::string head = "id,material,energy_J,photos\n";
  CHECK(doubts(folder, head + "K1,M,1,a.jpg|photos/b.jpg\n").empty());
  CHECK_THAT(warned(doubts(folder, head + "K1,M,1,a.jpg|c.jpg\n"), "photo-missing"),
             Contains("c.jpg (K1)") && !Contains("a.jpg"));
}

TEST_CASE("friction that was guessed is one warning of the series", "[series]") {
  SeriesResult result;
  result.rigs.emplace_back();
  result.rigs.back().name = "bench";
  ConcludeOptions options;
  options.rig_name = "bench";
  for (const char* id : {"K1", "K2", "K3"}) {
    Specimen specimen;
    specimen.id = id;
    specimen.material = "M";
    specimen.clip = "a.mp4";
    SwingRecord record = test::broken_swing();
    if (specimen.id != "K2") {
      record.measurement.remarks.push_back({"friction-unknown", Severity::Warning, "guessed"});
    }
    result.bars.push_back(conclude_filmed(specimen, record, options));
  }
  CHECK_THAT(warned(doubts_of_result(result), "friction-guessed"),
             Contains("rig bench") && Contains("K1 and K3") && Contains("free_swings"));
  result.bars.resize(2);
  result.bars.erase(result.bars.begin());
  CHECK(doubts_of_result(result).empty());
}

TEST_CASE("a table of clips is sent to run with one message", "[series]") {
  const TempFolder folder;
  const std::string table = folder.write(
      "specimens.csv", "id,material,clip,energy_J\nK1,M,a.mp4,\nK2,M,b.mp4,\nK3,M,,1.2\n");
  CHECK_THROWS_WITH(rank_table(table),
                    Contains("specimens.csv: column clip: found 2 of 3 bars with a clip") &&
                        Contains("swingloss run " + folder.path()) &&
                        Contains("results/results.csv"));
  CHECK(rank_table(
            folder.write("v.csv", "id,material,clip,energy_J\nK1,M,a.mp4,1\nK2,M,b.mp4,\n"))
            .bars[1]
            .problem.has_value());
}
