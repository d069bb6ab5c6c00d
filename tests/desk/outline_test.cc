// SPDX-License-Identifier: Apache-2.0
// Corners marked on a photograph become millimetres by its scale card.
#include "desk_series.h"
#include "imaging/still.h"
#include "support/test.h"
#include "view/card_photos.h"

#include <cmath>

namespace swingloss {
namespace {

using Json = nlohmann::json;

/// Corners of a section on the card's plane, in the rendered photograph.
Json corners_of(const render::FaceScene& scene, double thickness_m, double width_m) {
  constexpr double kTurn_rad = 0.2;
  Json corners = Json::array();
  for (const auto& [u, v] : {std::pair(-0.5, -0.5), {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}}) {
    const double x = u * thickness_m, y = v * width_m;
    const cv::Point2d at_m(0.053 + x * std::cos(kTurn_rad) - y * std::sin(kTurn_rad),
                           0.038 + x * std::sin(kTurn_rad) + y * std::cos(kTurn_rad));
    const cv::Point2d pixel = render::pixel_over(scene, at_m, 0.0);
    corners.push_back({pixel.x, pixel.y});
  }
  return corners;
}

}  // namespace

TEST_CASE("four corners on a photograph with a card give h and b in millimetres", "[desk]") {
  const test::DeskSeries series("id,material,energy_J,photos\nT1,Korvel,1,card.png|bare.png\n");
  series.folder().write("series.json", R"({ "format": "swingloss/series/1", "ruler_mm": 80 })");
  render::FaceScene scene = test::card_scene();
  std::filesystem::create_directories(series.folder() / "photos");
  write_png(series.folder() / "photos/card.png", render::photograph(scene));
  Desk desk(series.options());
  Json body = {{"photo", "card.png"}, {"corners_px", corners_of(scene, 6e-3, 8e-3)}};
  const DeskReply reply = test::ask(desk, "POST", "/api/outline", body);
  CAPTURE(reply.body);
  REQUIRE(reply.status == 200);
  const Json sized = Json::parse(reply.body);
  // The card's map is good to 0.1 px, a hundredth of a millimetre; twice that for a length.
  CHECK_THAT(sized.at("thickness_mm").get<double>(), test::to_truncation(6.0, 0.02));
  CHECK_THAT(sized.at("width_mm").get<double>(), test::to_truncation(8.0, 0.02));
  CHECK(sized.at("u_mm") > 0.05);  // two pixels of marking
  CHECK(test::ask(desk, "GET", "/photo?bar=T1").status == 404);
  scene.card = cv::Mat();
  write_png(series.folder() / "photos/bare.png", render::photograph(scene));
  body["photo"] = "bare.png";
  CHECK(test::ask(desk, "POST", "/api/outline", body).status == 422);
  for (const char* photo : {"../specimens.csv", "other.png"}) {
    body["photo"] = photo;
    CHECK(test::ask(desk, "POST", "/api/outline", body).status == 400);
  }
  body["corners_px"] = Json::array();
  CHECK(test::ask(desk, "POST", "/api/outline", body).status == 400);
  desk.workshop().wait_until_idle();
}

TEST_CASE("without a card one side that is known gives the other", "[desk]") {
  const test::DeskSeries series("id,material,energy_J,photos\nT1,Korvel,1,bare.png\n");
  render::FaceScene scene = test::card_scene();
  scene.card = cv::Mat();
  std::filesystem::create_directories(series.folder() / "photos");
  write_png(series.folder() / "photos/bare.png", render::photograph(scene));
  Desk desk(series.options());
  Json body = {{"photo", "bare.png"}, {"corners_px", corners_of(scene, 6e-3, 8e-3)}};
  body["known"] = {{"side", "thickness"}, {"mm", 6.0}, {"u_mm", 0.02}};
  const DeskReply reply = test::ask(desk, "POST", "/api/outline", body);
  CAPTURE(reply.body);
  REQUIRE(reply.status == 200);
  const Json sized = Json::parse(reply.body);
  const double u_mm = sized.at("u_mm");
  CHECK(sized.at("thickness_mm") == 6.0);
  CHECK_THAT(sized.at("width_mm").get<double>(), test::to_uncertainty(8.0, u_mm));
  CHECK(u_mm > 0.08);  // a hundredth, for a camera that is not square
  body["known"]["side"] = "width";
  body["known"]["mm"] = 8.0;
  const Json other = Json::parse(test::ask(desk, "POST", "/api/outline", body).body);
  CHECK_THAT(other.at("thickness_mm").get<double>(), test::to_uncertainty(6.0, u_mm));
  body["corners_px"][0][0] = body["corners_px"][0][0].get<double>() - 60.0;
  const DeskReply aslant = test::ask(desk, "POST", "/api/outline", body);
  CHECK(aslant.status == 422);
  CHECK_THAT(aslant.body, Catch::Contains("a tenth"));
  for (const Json& known : {Json{{"side", "depth"}, {"mm", 6.0}, {"u_mm", 0.02}},
                            Json{{"side", "width"}, {"mm", 0.0}, {"u_mm", 0.02}},
                            Json{{"side", "width"}, {"mm", 8.0}, {"u_mm", 0.0}},
                            Json{{"side", "width"}}}) {
    body["known"] = known;
    CHECK(test::ask(desk, "POST", "/api/outline", body).status == 400);
  }
  desk.workshop().wait_until_idle();
}

}  // namespace swingloss
