// SPDX-License-Identifier: Apache-2.0
#include "view/sheet.h"

#include "core/number_text.h"
#include "view/sheet_parts.h"

namespace swingloss {
namespace {

using Eigen::Vector2d;

constexpr double kMm = 1e-3;

void move(SheetPage& part, const Vector2d& by_m) {
  for (SheetShape& shape : part.shapes) {
    for (auto& contour : shape.contours_m) {
      for (Vector2d& point : contour) point += by_m;
    }
  }
  for (SheetText& text : part.texts) text.place_m += by_m;
}

void lay_on(SheetPage& page, SheetPage part, const Vector2d& at_m) {
  move(part, at_m);
  page.shapes.insert(page.shapes.end(), part.shapes.begin(), part.shapes.end());
  page.texts.insert(page.texts.end(), part.texts.begin(), part.texts.end());
}

void write_lines(SheetPage& page, Vector2d at_m, const std::vector<std::string>& lines) {
  for (const std::string& line : lines) {
    page.texts.push_back({at_m, 3.2 * kMm, line});
    at_m.y() += 4.6 * kMm;
  }
}

std::string mm_text(double length_m) { return fixed_text(length_m / kMm, 2) + " mm"; }

SheetPage card_sheet(Paper paper) {
  SheetPage page;
  page.size_m = size_of(paper);
  page.name = "scale-cards";
  const auto& cards = scale_cards();
  const double left = (page.size_m.x() - cards[0].size_m.x()) / 2.0;
  page.texts.push_back(
      {{left, 18.0 * kMm}, 5.0 * kMm, "Scale cards for photographs of broken bars"});
  write_lines(
      page,
      {left, 25.0 * kMm},
      {"Print at 100 % (\"actual size\"), on matt paper. Glue to something flat and stiff.",
       "Measure the ruler of the card with a steel rule or a caliper; tell swingloss surface",
       "--ruler what you found. Dark ground for light bars, light ground for dark bars.",
       "Best: cut the window out and raise the card until it is level with the broken face."});
  double top = 46.0 * kMm;
  for (const ScaleCard& card : cards) {
    lay_on(page, card_page(card), {left, top});
    top += card.size_m.y() + 10.0 * kMm;
  }
  return page;
}

/// A tag with a white border of a quarter of its side, and the line to cut along.
void add_sticker(SheetPage& page, int id, const Vector2d& at_m, double side_m) {
  const double border = side_m / 4.0;
  page.shapes.push_back(
      frame_shape(at_m, Vector2d::Constant(side_m + 2.0 * border), 0.1 * kMm));
  page.shapes.push_back(tag_shape(id, at_m + Vector2d::Constant(border), side_m));
  page.texts.push_back({at_m + Vector2d(0.0, side_m + 2.0 * border + 3.5 * kMm),
                        2.6 * kMm,
                        "tag " + std::to_string(id) + ", " + mm_text(side_m)});
}

/// Two dots of one size on a strip: dark on light, or light on dark.
void add_dots(SheetPage& page, const Vector2d& at_m, double diameter_m, bool light) {
  const double cell = 1.8 * diameter_m;
  if (light) page.shapes.push_back(box_shape(at_m, {2.0 * cell, cell}, 0.0));
  page.shapes.push_back(frame_shape(at_m, {2.0 * cell, cell}, 0.1 * kMm));
  for (int i = 0; i < 2; ++i) {
    page.shapes.push_back(disc_shape(
        at_m + Vector2d((i + 0.5) * cell, cell / 2.0), diameter_m / 2.0, light ? 1.0 : 0.0));
  }
  page.texts.push_back(
      {at_m + Vector2d(0.0, cell + 3.5 * kMm), 2.6 * kMm, "dots, " + mm_text(diameter_m)});
}

SheetPage sticker_sheet(Paper paper) {
  SheetPage page;
  page.size_m = size_of(paper);
  page.name = "rig-stickers";
  const double left = 20.0 * kMm;
  page.texts.push_back({{left, 18.0 * kMm}, 5.0 * kMm, "Stickers for the arm of the pendulum"});
  write_lines(
      page,
      {left, 25.0 * kMm},
      {"Print on matt paper. One tag, or two dots and more with one of them far out, flat on "
       "the",
       "arm, white border left on. Their true size does not matter to the tracker; take the",
       "largest that the arm bears."});
  Vector2d at(left, 42.0 * kMm);
  int id = 0;
  for (const double side_mm : {16.0, 24.0, 32.0, 40.0}) {
    add_sticker(page, id++, at, side_mm * kMm);
    at.x() += (1.5 * side_mm + 5.0) * kMm;
    if (id == 3) at = {left, 106.0 * kMm};
  }
  add_sticker(page, id++, {left + 66.0 * kMm, 106.0 * kMm}, 40.0 * kMm);
  double top = 178.0 * kMm;
  for (const bool light : {false, true}) {
    at = {left, top};
    for (const double diameter_mm : {8.0, 12.0, 16.0}) {
      add_dots(page, at, diameter_mm * kMm, light);
      at.x() += (3.6 * diameter_mm + 8.0) * kMm;
    }
    top += 37.0 * kMm;
  }
  add_ruler(page, {left, 262.0 * kMm}, 100.0 * kMm);
  return page;
}

}  // namespace

Eigen::Vector2d size_of(Paper paper) {
  return paper == Paper::A4 ? Vector2d(210.0, 297.0) * kMm : Vector2d(215.9, 279.4) * kMm;
}

SheetPage card_page(const ScaleCard& card) {
  SheetPage page;
  page.name = "scale-card-" + card.name;
  page.size_m = card.size_m;
  page.shapes.push_back(frame_shape({0.0, 0.0}, card.size_m, 0.1 * kMm));
  const Vector2d window = card.window_m.high_m - card.window_m.low_m;
  if (card.ground == CardGround::Dark) {
    page.shapes.push_back(box_shape(card.window_m.low_m, window, 0.0));
  } else {
    page.shapes.push_back(frame_shape(card.window_m.low_m, window, 0.15 * kMm));
  }
  for (const CardTag& tag : card.tags) {
    page.shapes.push_back(tag_shape(tag.id, tag.corners_m[0], card.tag_m));
  }
  add_ruler(page, card.ruler_from_m, card.ruler_m);
  page.texts.push_back({card.ruler_from_m + Vector2d(0.0, 9.2 * kMm),
                        2.6 * kMm,
                        "swingloss scale card, " + card.name});
  return page;
}

std::vector<SheetPage> sheets_for(Paper paper) {
  std::vector<SheetPage> pages = {card_sheet(paper), sticker_sheet(paper)};
  for (SheetPage& page : pages) page.name += paper == Paper::A4 ? "-a4" : "-letter";
  return pages;
}

}  // namespace swingloss
