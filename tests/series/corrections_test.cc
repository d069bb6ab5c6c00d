// SPDX-License-Identifier: Apache-2.0
#include "series/corrections.h"

#include "core/input_error.h"
#include "series/add_specimen.h"
#include "support/temp_folder.h"
#include "support/test.h"

namespace swingloss {
namespace {

using Catch::Contains;

const std::string kOfEach = R"({"format": "swingloss/corrections/1", "corrections": [
 {"number": 1, "kind": "axle", "bar": "K1", "when": "2026-01-02T03:04:05Z", "why": "off by a bolt",
  "automatic": "x 1.0, y 2.0 px", "undone": null, "point_px": [480.5, 130.25], "u_px": 1.5},
 {"number": 2, "kind": "rise", "bar": "K1", "when": "", "why": "hidden by a hand", "automatic": "",
  "undone": "2026-01-02T03:05:00Z", "angle_deg": 60.5, "u_deg": 0.2},
 {"number": 3, "kind": "section", "bar": "K2", "when": "", "why": "measured again", "automatic": "",
  "undone": null, "thickness_mm": 4.1, "width_mm": 8.2, "u_mm": 0.05, "photo": "a.jpg",
  "outline_px": [[1, 2], [3, 2], [3, 4], [1, 4]]},
 {"number": 4, "kind": "rise", "bar": "K1", "when": "", "why": "better seen", "automatic": "",
  "undone": null, "point_px": [10, 20], "t_s": 1.25, "u_deg": 0.1},
 {"number": 5, "kind": "group-by", "bar": "", "when": "", "why": "one batch", "automatic": "",
  "undone": null, "group_by": ["material"]}]})";

std::string one(const std::string& fields) {
  return R"({"kind": "rise", "bar": "K1", "why": "because")" + fields + "}";
}

}  // namespace

TEST_CASE("corrections are read, written and read again the same", "[series]") {
  const auto read = parse_corrections(kOfEach, "corrections.json");
  REQUIRE(read.size() == 5);
  CHECK(*read[0].point_px == Eigen::Vector2d(480.5, 130.25));
  CHECK(read[1].undone == "2026-01-02T03:05:00Z");
  CHECK(read[2].outline_px.size() == 4);
  const std::string written = corrections_json(read);
  CHECK(corrections_json(parse_corrections(written, "x")) == written);
  CHECK_THAT(written, Contains("\"angle_deg\": 60.5"));
}

TEST_CASE("of a bar's corrections the last of each kind stands, unless taken back",
          "[series]") {
  const auto all = parse_corrections(kOfEach, "corrections.json");
  const auto of_bar = standing(all, "K1");
  REQUIRE(of_bar.size() == 2);
  CHECK(find_correction(of_bar, CorrectionKind::Rise)->number == 4);
  CHECK(find_correction(of_bar, CorrectionKind::Blow) == nullptr);
  CHECK(standing(all, "").size() == 1);
}

TEST_CASE("a correction without reason, uncertainty or value is refused", "[series]") {
  CHECK_NOTHROW((void)parse_correction(one(R"(, "angle_deg": 60, "u_deg": 0.1)"), "x"));
  for (const char* fields : {"",
                             R"(, "angle_deg": 60)",
                             R"(, "angle_deg": 60, "u_deg": 0)",
                             R"(, "angle_deg": 180, "u_deg": 0.1)",
                             R"(, "point_px": [1, 2], "u_deg": 0.1)",
                             R"(, "point_px": [1], "t_s": 1, "u_deg": 0.1)",
                             R"(, "angle_deg": "60", "u_deg": 0.1)",
                             R"(, "angle_deg": 60, "u_deg": 0.1, "why": " ")",
                             R"(, "angle_deg": 60, "u_deg": 0.1, "bar": "")",
                             R"(, "angle_deg": 60, "u_deg": 0.1, "kind": "mood")"}) {
    CAPTURE(fields);
    CHECK_THROWS_AS((void)parse_correction(one(fields), "x"), InputError);
  }
  CHECK_THROWS_WITH((void)parse_corrections("{", "c.json"), Contains("c.json"));
  CHECK_THROWS_WITH((void)parse_corrections(R"({"format": "other", "corrections": []})", "c"),
                    Contains("swingloss/corrections/1"));
}

TEST_CASE("a bar is appended in the table's own words, or nothing is changed", "[series]") {
  const test::TempFolder folder;
  folder.write("clips/a.mp4", "x");
  const std::string before = "material;id;clip;width_mm;note\nKorvel;K1;a.mp4;8,02;\"a; b\"\n";
  const std::string path = folder.write("specimens.csv", before);
  add_specimen(folder.path(),
               {{"id", "K2"},
                {"material", "Korvel \"X\""},
                {"clip", "a.mp4"},
                {"width_mm", "8.1"},
                {"note", "one;\ntwo"}});
  CHECK(test::bytes_of(path) == before + "\"Korvel \"\"X\"\"\";K2;a.mp4;8,1;\"one; two\"\n");
  const std::string after = test::bytes_of(path);
  for (const SpecimenFields& bad :
       {SpecimenFields{{"id", "K2"}, {"material", "Korvel"}, {"clip", "a.mp4"}},
        SpecimenFields{{"id", "../K3"}, {"material", "Korvel"}, {"clip", "a.mp4"}},
        SpecimenFields{{"id", "K3"}, {"material", "Korvel"}, {"clip", "none.mp4"}},
        SpecimenFields{{"id", "K3"}, {"material", ""}, {"clip", "a.mp4"}},
        SpecimenFields{{"id", "K3"}, {"material", "Korvel"}, {"photos", "a.jpg"}}}) {
    CHECK_THROWS_AS(add_specimen(folder.path(), bad), InputError);
    CHECK(test::bytes_of(path) == after);
  }
}

TEST_CASE("names of files that come in are made safe", "[series]") {
  CHECK(safe_file_name("clip 1.MP4") == "clip-1.MP4");
  CHECK(safe_file_name("../../etc/passwd") == "passwd");
  CHECK(safe_file_name("a\\b\\c.mov") == "c.mov");
  CHECK(safe_file_name("..") == "file");
  CHECK(safe_file_name("") == "file");
  CHECK(safe_file_name(".hidden.mp4") == "hidden.mp4");
  CHECK(safe_file_name("CON.mp4") == "x-CON.mp4");
  CHECK(safe_file_name("<script>.jpg") == "script-.jpg");
  CHECK(safe_file_name(std::string(300, 'a') + ".mp4").size() == 64);
}

}  // namespace swingloss
