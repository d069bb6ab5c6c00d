// SPDX-License-Identifier: Apache-2.0
#include "surface/pair_halves.h"

#include "core/expects.h"
#include "core/number_text.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string>

namespace swingloss {
namespace {

using Matrix = std::vector<std::vector<double>>;

// What true halves of rendered bars differ by at most, one feature at a time, under one lamp:
// tests/surface/pair_halves_test.cc.
constexpr double kSize = 0.02;       // relative
constexpr double kDepth = 0.02;      // of the notch, in shares of the whole way
constexpr double kBrightness = 0.5;  // natural logarithm
constexpr double kColour = 0.2;
constexpr double kOutline = 0.03;  // drawing-in and swelling
constexpr double kTile = 0.35;     // log roughness, root mean square over the grid
constexpr double kFarthest = 2.5;
constexpr double kUnlike = 1.0;
constexpr double kClearer = 1.5;   // another pairing's unlikeness over this one's
constexpr double kNearer = 0.7;    // distance within a pair over the least between pairs
constexpr std::size_t kMost = 12;  // faces: 10395 ways to pair them

class Mean {
 public:
  void add(double difference, double usual) {
    // One odd feature alone, such as a root found in the wrong place, shall not decide.
    const double steps = std::min(kFarthest, std::abs(difference) / usual);
    sum_ += steps * steps;
    ++count_;
  }
  [[nodiscard]] double root() const { return count_ == 0 ? 0.0 : std::sqrt(sum_ / count_); }

 private:
  double sum_ = 0.0;
  int count_ = 0;
};

double side_px(const FaceMeasures& face, std::size_t from) {
  return (face.outline_px[(from + 1) % 4] - face.outline_px[from]).norm();
}

void add_sizes(const FaceMeasures& a, const FaceMeasures& b, Mean& mean) {
  if (a.section && b.section) {
    const auto add = [&](const Uncertain& x, const Uncertain& y) {
      mean.add(std::log(x.value() / y.value()), kSize);
    };
    add(a.section->thickness_m, b.section->thickness_m);
    // A lip is part of the outline on one half and torn away on the other.
    if (a.parting.lip == 0.0 && b.parting.lip == 0.0)
      add(a.section->whole_width_m, b.section->whole_width_m);
  } else if (a.outline_px.size() == 4 && b.outline_px.size() == 4 &&
             a.notch_found == b.notch_found) {
    mean.add(std::log(side_px(a, 0) / side_px(b, 0)), kSize);
    mean.add(std::log(side_px(a, 1) / side_px(b, 1)), kSize);
  }
}

/// Share of the way from notched to far side that did not break.
double depth_of(const FaceMeasures& face) {
  const double broken = (face.broken_px[3] - face.broken_px[0]).norm();
  return 1.0 - broken / std::max(1.0, side_px(face, 1));
}

double of_grid(const FaceMeasures& a, const FaceMeasures& b) {
  double square = 0.0;
  for (std::size_t i = 0; i < 16; ++i) {
    const std::size_t mirrored = i / 4 * 4 + (3 - i % 4);
    square += std::pow(a.marks.tile_roughness[i] - b.marks.tile_roughness[mirrored], 2) / 16.0;
  }
  return std::sqrt(square);
}

struct Matching {
  std::vector<HalfPair> pairs;
  double worst = std::numeric_limits<double>::infinity();
};

/// The pairing whose least alike pair is the most alike, `but` left out.
void search(const Matrix& unlike,
            const std::vector<HalfPair>& but,
            Matching& at_hand,
            std::vector<bool>& taken,
            Matching& best) {
  const auto first = std::size_t(std::find(taken.begin(), taken.end(), false) - taken.begin());
  if (first == taken.size()) {
    double worst = 0.0;
    bool same = true;
    for (std::size_t k = 0; k < at_hand.pairs.size(); ++k) {
      worst = std::max(worst, at_hand.pairs[k].unlikeness);
      same = same && at_hand.pairs[k].second == but[k].second;
    }
    if (!same && worst < best.worst) best = {at_hand.pairs, worst};
    return;
  }
  taken[first] = true;
  for (std::size_t other = first + 1; other < taken.size(); ++other) {
    if (taken[other]) continue;
    taken[other] = true;
    at_hand.pairs.push_back({first, other, unlike[first][other]});
    search(unlike, but, at_hand, taken, best);
    at_hand.pairs.pop_back();
    taken[other] = false;
  }
  taken[first] = false;
}

Failure unpaired(const std::string& cause) {
  return {"halves-unpaired",
          cause,
          "Lay the two halves of a bar side by side, bars from left to right, with more space "
          "between bars than between halves; or photograph each bar by itself."};
}

std::string number_of(std::size_t face) { return std::to_string(face + 1); }

std::string pairs_words(const std::vector<HalfPair>& pairs) {
  std::string words;
  for (const HalfPair& pair : pairs) {
    words +=
        (words.empty() ? "" : ", ") + number_of(pair.first) + " with " + number_of(pair.second);
  }
  return words;
}

/// Largest distance within a pair over the least between faces of different pairs.
double nearness(const std::vector<HalfPair>& pairs, const std::vector<HalfTraits>& traits) {
  double within = 0.0;
  double between = std::numeric_limits<double>::infinity();
  const auto apart = [&](std::size_t i, std::size_t j) {
    return (traits[i].middle_px - traits[j].middle_px).norm();
  };
  for (const HalfPair& pair : pairs) {
    within = std::max(within, apart(pair.first, pair.second));
    for (const HalfPair& other : pairs) {
      if (other.first == pair.first) continue;
      between = std::min({between,
                          apart(pair.first, other.first),
                          apart(pair.first, other.second),
                          apart(pair.second, other.first),
                          apart(pair.second, other.second)});
    }
  }
  return within / between;
}

Matrix all_unlike(const std::vector<FaceMeasures>& faces,
                  const std::vector<HalfTraits>& traits) {
  Matrix unlike(faces.size(), std::vector<double>(faces.size(), 0.0));
  for (std::size_t i = 0; i < faces.size(); ++i) {
    for (std::size_t j = 0; j < faces.size(); ++j) {
      if (i != j) unlike[i][j] = unlikeness_of(faces[i], traits[i], faces[j], traits[j]);
    }
  }
  return unlike;
}

}  // namespace

double unlikeness_of(const FaceMeasures& a,
                     const HalfTraits& a_traits,
                     const FaceMeasures& b,
                     const HalfTraits& b_traits) {
  Mean mean;
  add_sizes(a, b, mean);
  if (a.notch_found && b.notch_found) mean.add(depth_of(a) - depth_of(b), kDepth);
  mean.add(a_traits.brightness - b_traits.brightness, kBrightness);
  mean.add(a_traits.red_ratio - b_traits.red_ratio, kColour);
  mean.add(a_traits.blue_ratio - b_traits.blue_ratio, kColour);
  // With the root found on one alone, the two were not looked at over the same part.
  if (a.notch_found != b.notch_found) return mean.root();
  const auto add_seen = [&](const std::optional<double>& x, const std::optional<double>& y) {
    if (x && y) mean.add(*x - *y, kOutline);
  };
  add_seen(a.appearance.contraction, b.appearance.contraction);
  add_seen(a.appearance.swelling, b.appearance.swelling);
  mean.add(of_grid(a, b), kTile);
  return mean.root();
}

Result<std::vector<HalfPair>> pair_halves(const std::vector<FaceMeasures>& faces,
                                          const std::vector<HalfTraits>& traits,
                                          std::optional<int> bars) {
  expects(faces.size() == traits.size(), "pair_halves: traits of each face");
  const std::size_t n = faces.size();
  if (n < 2 || (bars && n == std::size_t(*bars))) return std::vector<HalfPair>();
  if (n % 2 != 0) return unpaired(std::to_string(n) + " faces: one lacks its other half");
  if (bars && n != 2 * std::size_t(*bars)) {
    return unpaired(std::to_string(n) + " faces for " + std::to_string(*bars) +
                    " bars: neither one nor two of each");
  }
  if (n > kMost) return unpaired(std::to_string(n) + " faces on one photograph are too many");
  const Matrix unlike = all_unlike(faces, traits);
  std::vector<HalfPair> by_place;
  for (std::size_t i = 0; i < n; i += 2) by_place.push_back({i, i + 1, unlike[i][i + 1]});
  const auto worst = *std::max_element(
      by_place.begin(), by_place.end(), [](const HalfPair& a, const HalfPair& b) {
        return a.unlikeness < b.unlikeness;
      });
  if (worst.unlikeness > kUnlike) {
    return unpaired("faces " + number_of(worst.first) + " and " + number_of(worst.second) +
                    " lie side by side but are unlike (" + fixed_text(worst.unlikeness, 1) +
                    " times what halves differ by)");
  }
  Matching best;
  Matching at_hand;
  std::vector<bool> taken(n, false);
  search(unlike, by_place, at_hand, taken, best);
  if (best.worst * kClearer < worst.unlikeness) {
    return unpaired("by place " + pairs_words(by_place) + " belong together, by look " +
                    pairs_words(best.pairs));
  }
  const bool told = n == 2 || bars || best.worst > kClearer * worst.unlikeness ||
                    nearness(by_place, traits) < kNearer;
  if (!told) {
    return unpaired("neither the places nor the looks of " + std::to_string(n) +
                    " faces tell which two belong together");
  }
  return by_place;
}

}  // namespace swingloss
