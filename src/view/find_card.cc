// SPDX-License-Identifier: Apache-2.0
#include "core/angle.h"
#include "core/expects.h"
#include "core/median.h"
#include "core/number_text.h"
#include "view/card_tags.h"
#include "view/card_view.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include <opencv2/imgproc.hpp>

namespace swingloss {
namespace {

using Eigen::Vector2d;

constexpr std::size_t kFewestTags = 5;
constexpr double kFilmDiagonal_mm = 43.27;  // of a 24 x 36 mm picture
constexpr double kUsualFocal_35mm = 26.0;   // of phones: 23 to 29 for most
/// Corners of a flat card agree with a plane to a part of a pixel; a bent one does not.
constexpr double kMostResidual_of_side = 0.02;

struct CardTags {
  const ScaleCard* card = nullptr;
  std::vector<SeenTag> tags;
};

bool has_tag(const ScaleCard& card, int id) {
  return std::any_of(
      card.tags.begin(), card.tags.end(), [&](const CardTag& tag) { return tag.id == id; });
}

/// Tags of one card, and how many of its numbers were read in more than one place.
struct OwnTags {
  std::vector<SeenTag> tags;
  int doubled = 0;
};

/// In a poor picture noise is read as a tag now and then, with a number that stands elsewhere
/// too. Both are left out then: which of them is the card's is not known yet.
OwnTags own_tags(const ScaleCard& card, const std::vector<SeenTag>& seen) {
  std::map<int, int> times;
  for (const SeenTag& tag : seen) {
    if (has_tag(card, tag.id)) ++times[tag.id];
  }
  OwnTags own;
  for (const auto& [id, count] : times) own.doubled += count > 1 ? 1 : 0;
  for (const SeenTag& tag : seen) {
    if (has_tag(card, tag.id) && times[tag.id] == 1) own.tags.push_back(tag);
  }
  return own;
}

/// The card that the tags belong to. Strays, of noise or of a card's edge, make no second one:
/// that takes as many tags as a card is read by.
Result<CardTags> one_card(const std::vector<SeenTag>& seen) {
  constexpr int kDoubledOfTwo = int(kFewestTags) - 1;
  CardTags found;
  int cards = 0;
  for (const ScaleCard& card : scale_cards()) {
    const OwnTags own = own_tags(card, seen);
    if (own.doubled >= kDoubledOfTwo) cards += 2;
    if (own.tags.size() >= kFewestTags) ++cards;
    if (own.tags.size() >= 2 && own.tags.size() > found.tags.size()) found = {&card, own.tags};
  }
  if (cards > 1) {
    return Failure{"two-cards",
                   "two scale cards are in the picture",
                   "Photograph one card at a time, with its own bars."};
  }
  if (found.card == nullptr) {
    return Failure{"no-card",
                   "no scale card is seen",
                   "Lay a card of swingloss sheet under or around the bar for sizes in "
                   "millimetres."};
  }
  return found;
}

bool inside(const Vector2d& pixel, const cv::Size& size) {
  return pixel.x() > 1.0 && pixel.y() > 1.0 && pixel.x() < size.width - 2.0 &&
         pixel.y() < size.height - 2.0;
}

/// Whether tags are seen on each of the four sides of the card.
bool all_sides(const ScaleCard& card, const std::vector<SeenTag>& tags) {
  std::array<bool, 4> side{};
  for (const SeenTag& seen : tags) {
    for (const CardTag& tag : card.tags) {
      if (tag.id != seen.id) continue;
      side[0] = side[0] || tag.corners_m[2].y() < card.window_m.low_m.y();
      side[1] = side[1] || tag.corners_m[0].y() > card.window_m.high_m.y();
      side[2] = side[2] || tag.corners_m[2].x() < card.window_m.low_m.x();
      side[3] = side[3] || tag.corners_m[0].x() > card.window_m.high_m.x();
    }
  }
  return side[0] && side[1] && side[2] && side[3];
}

/// How many of the card's tags lie outside the picture.
int tags_outside(const ScaleCard& card, const CardMap& map, const cv::Size& size) {
  const auto in_picture = [&](const CardTag& tag) {
    return std::all_of(tag.corners_m.begin(), tag.corners_m.end(), [&](const Vector2d& corner) {
      return inside(map.pixel_of(corner), size);
    });
  };
  return int(card.tags.size()) -
         int(std::count_if(card.tags.begin(), card.tags.end(), in_picture));
}

/// Why too few tags were read: their places lie outside the picture, or they are hidden.
Failure too_few(const ScaleCard& card, const std::vector<SeenTag>& tags, const cv::Size& size) {
  const auto fitted = fit_card_map(card, tags, size);
  const int outside = fitted.ok() ? tags_outside(card, fitted.value().map, size) : 0;
  const std::string count = std::to_string(tags.size()) + " of the card's " +
                            std::to_string(card.tags.size()) + " tags";
  if (outside > 0) {
    return {"card-cut-off",
            "only " + count + " are in the picture",
            "Step back until the whole card is in the picture."};
  }
  return {"card-hidden",
          "only " + count + " can be read",
          "Keep fingers, bars and glare off the tags."};
}

std::optional<Failure> exposure_fault(const EdgeLook& look) {
  const std::string levels = "paper at level " + fixed_text(look.white_level, 0) +
                             ", print at " + fixed_text(look.black_level, 0) + " of 255";
  if (look.white_level < 70.0) {
    return Failure{"picture-underexposed",
                   "the picture is too dark: " + levels,
                   "More light, or a longer exposure."};
  }
  if (look.black_level > 110.0) {
    return Failure{"picture-overexposed",
                   "the picture is too bright or hazy: " + levels,
                   "Less exposure; keep lamps from shining into the lens."};
  }
  return {};
}

/// Levels that a hundredth of the picture is below and above.
EdgeLook darkest_and_lightest(const cv::Mat& grey) {
  std::array<int, 256> count{};
  for (int row = 0; row < grey.rows; ++row) {
    for (int column = 0; column < grey.cols; ++column)
      ++count[grey.at<unsigned char>(row, column)];
  }
  const int hundredth = int(grey.total() / 100);
  EdgeLook look;
  int below = 0;
  for (std::size_t level = 0; level < count.size(); ++level) {
    if (below <= hundredth) look.black_level = double(level);
    if (below <= int(grey.total()) - hundredth) look.white_level = double(level);
    below += count[level];
  }
  return look;
}

std::optional<Failure> sharpness_fault(const CardView& view, const CardViewOptions& options) {
  if (view.px_per_m < options.fewest_px_per_m) {
    return Failure{"picture-too-small",
                   "the card has " + fixed_text(view.px_per_m / 1000.0, 1) +
                       " pixels a millimetre; a section wants " +
                       fixed_text(options.fewest_px_per_m / 1000.0, 0) + " at least",
                   "Go nearer until the card fills the picture, and copy the original file."};
  }
  if (view.blur_px / view.px_per_m > options.most_blur_m) {
    return Failure{
        "picture-blurred",
        "edges are blurred over " + fixed_text(2e3 * view.blur_px / view.px_per_m, 2) + " mm",
        "Hold the camera still or rest it on something, and let it focus on the bar."};
  }
  return {};
}

/// The map without tags that lie off the plane that the others agree on.
Result<FittedMap> robust_map(const ScaleCard& card,
                             std::vector<SeenTag>& tags,
                             const cv::Size& size) {
  const std::size_t most_left_out = tags.size() / 4;
  for (std::size_t left_out = 0;; ++left_out) {
    auto fitted = fit_card_map(card, tags, size);
    if (!fitted.ok() || left_out == most_left_out || tags.size() <= kFewestTags) return fitted;
    const auto& off_px = fitted.value().tag_residual_px;
    const auto worst = std::max_element(off_px.begin(), off_px.end());
    if (*worst < std::max(0.5, 4.0 * median_of(off_px))) return fitted;
    tags.erase(tags.begin() + (worst - off_px.begin()));
  }
}

Failure bent(double residual_px, double side_px) {
  return {"card-bent",
          "the tags do not lie in one plane: their corners are off by " +
              fixed_text(residual_px, 1) + " pixels, " +
              fixed_text(100.0 * residual_px / side_px, 1) + " % of a tag",
          "Glue the card to something flat; use no wide-angle or fish-eye lens."};
}

}  // namespace

Result<CardView> find_card(const cv::Mat& bgr, const CardViewOptions& options) {
  expects(bgr.type() == CV_8UC3, "find_card: wants 8-bit colour");
  cv::Mat grey;
  cv::cvtColor(bgr, grey, cv::COLOR_BGR2GRAY);
  Result<CardTags> found = one_card(read_card_tags(grey));
  if (!found.ok()) return found.failure();
  const ScaleCard& card = *found.value().card;
  std::vector<SeenTag> tags = found.value().tags;
  const std::size_t seen = tags.size();
  if (seen < kFewestTags || !all_sides(card, tags)) {
    // Too dark or too bright comes first: that is why tags are missing then.
    if (const auto fault = exposure_fault(darkest_and_lightest(grey))) return *fault;
    return too_few(card, tags, bgr.size());
  }
  const EdgeLook look = look_of_edges(grey, tags);
  if (const auto fault = exposure_fault(look)) return *fault;
  const auto fitted = robust_map(card, tags, bgr.size());
  if (!fitted.ok()) return fitted.failure();

  CardView view;
  view.card = card;
  view.map = fitted.value().map;
  view.one_u_off = fitted.value().one_u_off;
  view.tags = int(tags.size());
  view.tags_left_out = int(seen - tags.size());
  view.residual_px = fitted.value().residual_px;
  view.blur_px = look.blur_px;
  view.black_level = look.black_level;
  view.white_level = look.white_level;
  const Vector2d middle_m = (card.window_m.low_m + card.window_m.high_m) / 2.0;
  view.px_per_m = view.map.px_per_m(middle_m);
  view.focal_ideal = 2.0 * options.focal_35mm.value_or(kUsualFocal_35mm) / kFilmDiagonal_mm;
  view.u_focal_relative = options.focal_35mm ? 0.03 : 0.15;
  view.pose = pose_of(view.map, middle_m, view.focal_ideal);
  if (view.residual_px > std::max(1.0, kMostResidual_of_side * card.tag_m * view.px_per_m)) {
    return bent(view.residual_px, card.tag_m * view.px_per_m);
  }
  if (view.pose.tilt_rad > options.most_tilt_rad) {
    return Failure{"card-tilted",
                   "the camera looks at the card at about " +
                       fixed_text(Angle::from_rad(view.pose.tilt_rad).deg(), 0) +
                       " degrees from square",
                   "Photograph the card from straight above."};
  }
  if (const auto fault = sharpness_fault(view, options)) return *fault;
  for (const double x : {card.window_m.low_m.x(), card.window_m.high_m.x()}) {
    for (const double y : {card.window_m.low_m.y(), card.window_m.high_m.y()}) {
      if (!inside(view.map.pixel_of({x, y}), bgr.size()))
        return too_few(card, tags, bgr.size());
    }
  }
  return view;
}

}  // namespace swingloss
