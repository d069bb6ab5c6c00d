// SPDX-License-Identifier: Apache-2.0
#include "imaging/still.h"
#include "render/face_photo.h"
#include "support/run_program.h"
#include "support/test.h"
#include "view/sheet.h"

#include <cstdlib>

#include <opencv2/imgproc.hpp>

using namespace swingloss;
using namespace swingloss::render;
using test::run_program;

namespace {

/// A card with one red bar of 6 x 10 mm with a notch of 2 mm, 1400 pixels wide.
FaceScene red_bar() {
  FaceScene scene;
  scene.card = sheet_picture(card_page(scale_cards()[0]), 20000.0);
  scene.width_px = 1400;
  scene.height_px = 1050;
  scene.distance_m = 0.125;
  FaceLook look;
  look.seed = 11;
  look.thickness_m = 6e-3;
  look.torn = 0.9;
  look.albedo = colour(180, 60, 40);
  scene.faces = {{look, {0.053, 0.038}, 0.2, 0.0}};
  return scene;
}

bool has(const std::string& text, const std::string& words) {
  return text.find(words) != std::string::npos;
}

double number_after(const std::string& text, const std::string& words) {
  const auto place = text.find(words);
  return place == std::string::npos ? 0.0
                                    : std::strtod(text.c_str() + place + words.size(), nullptr);
}

}  // namespace

TEST_CASE("surface measures a photograph, writes JSON and plate, and exits 0", "[cli]") {
  const test::TempFolder folder;
  write_png(folder / "bar.png", photograph(red_bar()));
  const auto end = run_program({"surface",
                                folder / "bar.png",
                                "--ruler",
                                "80.0",
                                "--json",
                                folder / "bar.json",
                                "--plate",
                                folder / "plate.png"});
  CAPTURE(end.out, end.err);
  CHECK(end.status == 0);
  // The bar is 6 x 10 mm with a notch of 2 mm; 8 pixels are a millimetre here.
  CHECK_THAT(number_after(end.out, ": h "), test::to_truncation(6.0, 0.1));
  CHECK_THAT(number_after(end.out, "b_N "), test::to_truncation(8.0, 0.15));
  CHECK(has(test::bytes_of(folder / "bar.json"), "\"format\": \"swingloss/surface/1\""));
  CHECK(read_still(folder / "plate.png").bgr.cols == 1920);
}

TEST_CASE("a photograph that cannot be measured is named with its reason, exit 1", "[cli]") {
  const test::TempFolder folder;
  cv::Mat blurred;
  cv::GaussianBlur(photograph(red_bar()), blurred, {}, 4.0);
  write_png(folder / "bar.png", blurred);
  const auto end = run_program({"surface", folder / "bar.png"});
  CHECK(end.status == 1);
  CHECK(has(end.err, "blurred"));
  const auto shrunk = run_program({"surface", folder / "bar.png", "--ruler", "77.6"});
  CHECK(shrunk.status == 1);
}

TEST_CASE("surface goes on after a photograph that cannot be read, exit 1, and names it",
          "[cli]") {
  const test::TempFolder folder;
  write_png(folder / "bar.png", photograph(red_bar()));
  folder.write("broken.jpg", "\xff\xd8\xff\xe0 no more than a head");
  const auto end = run_program({"surface",
                                folder / "broken.jpg",
                                folder / "none.jpg",
                                folder / "bar.png",
                                "--json",
                                folder / "all.json"});
  CAPTURE(end.out, end.err);
  CHECK(end.status == 1);
  CHECK(has(end.err, "broken.jpg"));
  CHECK(has(end.err, "none.jpg"));
  CHECK(has(end.out, "b_N "));
  CHECK(has(test::bytes_of(folder / "all.json"), "unusable-photo"));
  CHECK(run_program({"surface", folder / "broken.jpg", folder / "none.jpg"}).status == 2);
}

TEST_CASE("photographs that cannot carry a measurement are refused by name, exit 1", "[cli]") {
  const test::TempFolder folder;
  const cv::Mat good = photograph(red_bar());
  const auto refused = [&](const cv::Mat& photo, const std::string& words) {
    write_png(folder / "bad.png", photo);
    const auto end = run_program({"surface", folder / "bad.png"});
    CAPTURE(words, end.out, end.err);
    CHECK(end.status == 1);
    CHECK(has(end.err, "bad.png"));
    CHECK(has(end.err, words));
  };
  refused(good * 0.2, "dark");
  refused(good + cv::Scalar(120, 120, 120), "bright");
  cv::Mat cut = good(cv::Rect(good.cols / 4, 0, good.cols * 3 / 4, good.rows)).clone();
  refused(cut, "card");
  cv::Mat small;
  cv::resize(good, small, {200, 150}, 0, 0, cv::INTER_AREA);
  write_png(folder / "small.png", small);
  CHECK(run_program({"surface", folder / "small.png"}).status <= 1);
  FaceScene empty = red_bar();
  empty.faces.clear();
  refused(photograph(empty), "Nothing in the card's window");
}

TEST_CASE("percent shear is given from A and B, and from an outline on the picture", "[cli]") {
  const test::TempFolder folder;
  write_png(folder / "bar.png", photograph(red_bar()));
  const std::string photo = folder / "bar.png";
  // 6 x 8 mm broke: 3 x 4 mm flat leave 75 %; the photograph's own section is what it is over.
  const auto sizes = run_program({"surface", photo, "--shear-a", "3", "--shear-b", "4"});
  CAPTURE(sizes.out, sizes.err);
  CHECK(sizes.status == 0);
  CHECK_THAT(number_after(sizes.out, "percent shear "), test::to_truncation(75.0, 1.5));
  CHECK(run_program({"surface", photo, "--shear-a", "3"}).status == 2);
  CHECK(run_program({"surface", photo, "--flat", "1,2,3"}).status == 2);
  CHECK(run_program({"surface", photo, "--shear", "--flat", "1,2,3,4,5,6"}).status == 2);
  // Fifty pixels are too few, and that is said.
  const auto found = run_program({"surface", photo, "--shear"});
  CHECK(found.status == 0);
  CHECK(has(found.out, "too small on the photograph"));
  const auto outside = run_program({"surface", photo, "--flat", "1,1,20,1,20,20"});
  CHECK(has(outside.out, "outside the face"));
}

TEST_CASE("HEIC and missing photographs are refused with what to do, exit 2", "[cli]") {
  const test::TempFolder folder;
  folder.write("bar.heic",
               std::string("\0\0\0\x18"
                           "ftypheic\0\0\0\0mif1heic",
                           24) +
                   std::string(400, 'x'));
  const auto heic = run_program({"surface", folder / "bar.heic"});
  CHECK(heic.status == 2);
  CHECK(has(heic.err, "HEIC"));
  CHECK(run_program({"surface", folder / "none.jpg"}).status == 2);
  CHECK(run_program({"surface"}).status == 2);
}

TEST_CASE("sheet writes each page in three formats", "[cli]") {
  const test::TempFolder folder;
  const auto end = run_program({"sheet", "--out", folder.path(), "--paper", "letter"});
  CAPTURE(end.err);
  CHECK(end.status == 0);
  for (const char* page : {"scale-cards-letter", "rig-stickers-letter"}) {
    for (const char* ending : {".svg", ".pdf", ".png"}) {
      CHECK_FALSE(test::bytes_of(folder / (std::string(page) + ending)).empty());
    }
  }
  CHECK(run_program({"sheet", "--paper", "a5"}).status == 2);
}

TEST_CASE("run measures the photos of a bar beside its energy", "[cli]") {
  const test::TempFolder folder;
  write_png(folder.write("photos/none", "") + ".png", photograph(red_bar()));
  folder.write("series.json", "{\"format\": \"swingloss/series/1\", \"ruler_mm\": 80.0}");
  folder.write("specimens.csv",
               "id,material,photos,thickness_mm,width_mm,energy_J\n"
               "A1,red,none.png,6.0,7.0,1.0\nA2,red,gone.png,6.0,8.0,1.1\n");
  const auto end = run_program({"run", folder.path(), "-q"});
  CAPTURE(end.out, end.err);
  CHECK(end.status == 0);
  const std::string page = test::bytes_of(folder / "results/report.html");
  CHECK(has(page, "Broken faces"));
  CHECK(has(page, "b_N 7 mm as typed"));
  CHECK(has(page, "gone.png"));
  CHECK_FALSE(test::bytes_of(folder / "results/plates/face-A1.png").empty());
  CHECK_FALSE(test::bytes_of(folder / "results/plates/faces-by-energy.png").empty());
  const std::string first = test::bytes_of(folder / "results/surfaces/A1.json");
  CHECK(run_program({"run", folder.path(), "-q"}).status == 0);
  CHECK(test::bytes_of(folder / "results/surfaces/A1.json") == first);
  CHECK(test::bytes_of(folder / "results/report.html") == page);
}
