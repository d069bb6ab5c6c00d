// SPDX-License-Identifier: Apache-2.0
#include "surface/judge.h"

#include "support/test.h"

#include <cmath>
#include <random>

using namespace swingloss;

namespace {

/// Faces whose first feature alone tells the class, with scatter; the rest is noise.
std::vector<LabelledFace> told_by_one(double apart, int bars, unsigned seed) {
  std::mt19937 random(seed);
  std::normal_distribution<double> normal;
  std::vector<LabelledFace> faces;
  for (int i = 0; i < bars; ++i) {
    LabelledFace face;
    face.bar = "bar " + std::to_string(i);
    face.label = static_cast<FractureLook>(i % 3);
    for (std::size_t j = 0; j < feature_names().size(); ++j)
      face.features.push_back(normal(random));
    *face.features[0] += apart * (i % 3);
    faces.push_back(face);
  }
  return faces;
}

}  // namespace

TEST_CASE("features have a name each", "[surface]") {
  CHECK(features_of(Appearance()).size() == feature_names().size());
}

TEST_CASE("learn tells classes apart by what tells them apart", "[surface]") {
  const auto model = learn(told_by_one(8.0, 90, 1));
  REQUIRE(model.ok());
  // Chance is a third; the nineteen features of noise cost something.
  CHECK(model.value().account.accuracy > 0.8);
  CHECK(model.value().account.bars == 90);
  CHECK(model.value().account.confusion.sum() == 90.0);
}

TEST_CASE("leaving each bar out shows that noise cannot be learnt", "[surface]") {
  // 90 bars of no information: chance is 1/3 with deviation sqrt(2/9/90) = 0.05; judging the
  // training itself would show far more. (Leaving one of equally many out makes its
  // class the rarest, so less than chance is no surprise.)
  const auto model = learn(told_by_one(0.0, 90, 2));
  REQUIRE(model.ok());
  const LearnAccount& account = model.value().account;
  CHECK_THAT(account.accuracy,
             test::to_truncation(1.0 / 3.0, 4.0 * std::sqrt(2.0 / 9.0 / 90.0)));
  CHECK(account.accuracy_low < 1.0 / 3.0);
}

TEST_CASE("both faces of a bar are left out together", "[surface]") {
  // Each bar twice, the same noise: a model that has seen the twin would know it.
  auto faces = told_by_one(0.0, 60, 3);
  const auto twins = faces;
  faces.insert(faces.end(), twins.begin(), twins.end());
  const auto model = learn(faces);
  REQUIRE(model.ok());
  CHECK(model.value().account.bars == 60);
  CHECK_THAT(model.value().account.accuracy,
             test::to_truncation(1.0 / 3.0, 4.0 * std::sqrt(2.0 / 9.0 / 60.0)));
}

TEST_CASE("the interval of the accuracy is Wilson's", "[surface][truth]") {
  // Another form of Wilson 1927 than the code's: the two roots of n (p - x)^2 = z^2 x (1 - x).
  const auto model = learn(told_by_one(2.0, 60, 4));
  REQUIRE(model.ok());
  const LearnAccount& a = model.value().account;
  for (const double x : {a.accuracy_low, a.accuracy_high}) {
    const double off =
        60.0 * std::pow(a.accuracy - x, 2) - std::pow(1.959963984540054, 2) * x * (1.0 - x);
    CHECK_THAT(off, test::to_truncation(0.0, 1e-9));  // rounding of terms of about 1
  }
}

TEST_CASE("probabilities stay modest and sum to one", "[surface]") {
  const auto learnt = learn(told_by_one(30.0, 90, 5));
  REQUIRE(learnt.ok());
  for (const LabelledFace& face : told_by_one(30.0, 9, 6)) {
    const auto p = learnt.value().probabilities(face.features);
    // Three additions.
    CHECK_THAT(p[0] + p[1] + p[2], test::to_rounding(1.0, 4));
    for (const double one : p) {
      CHECK(one >= 0.05 - 1e-12);
      CHECK(one <= 0.90 + 1e-12);
    }
  }
}

TEST_CASE(
    "stated probabilities are kept: log loss on new bars is not above that of the learning",
    "[surface]") {
  const auto learnt = learn(told_by_one(2.0, 300, 7));
  REQUIRE(learnt.ok());
  double loss = 0.0;
  const auto fresh = told_by_one(2.0, 300, 8);
  double right = 0.0;
  double stated = 0.0;
  for (const LabelledFace& face : fresh) {
    const auto p = learnt.value().probabilities(face.features);
    loss -= std::log(p[std::size_t(face.label)]) / 300.0;
    const auto k = std::max_element(p.begin(), p.end()) - p.begin();
    stated += p[std::size_t(k)] / 300.0;
    right += k == long(face.label) ? 1.0 / 300.0 : 0.0;
  }
  // Mean of 300 losses that scatter by about 0.7.
  CHECK_THAT(
      loss, test::to_truncation(learnt.value().account.log_loss, 4.0 * 0.7 / std::sqrt(150.0)));
  // Not more is stated than is right: modesty takes off some 10 %.
  CHECK(stated < right + 3.0 * std::sqrt(0.25 / 300.0));
}

TEST_CASE("ten labels of one's own move a model that was learnt before", "[surface]") {
  const auto before = learn(told_by_one(6.0, 90, 9));
  REQUIRE(before.ok());
  LearnOptions options;
  options.prior = &before.value();
  // Another material: what was brittle lies where mixed lay before, and so on.
  auto own = told_by_one(6.0, 12, 10);
  for (auto& face : own) *face.features[0] += 6.0;
  const auto after = learn(own, options);
  REQUIRE(after.ok());
  const auto p_before = before.value().probabilities(own.front().features);
  const auto p_after = after.value().probabilities(own.front().features);
  CHECK(p_after[std::size_t(own.front().label)] > p_before[std::size_t(own.front().label)]);
}

TEST_CASE("learn refuses too few bars or one class", "[surface]") {
  CHECK(learn(told_by_one(5.0, 5, 11)).failure().code == "too-few-labels");
  auto one = told_by_one(5.0, 30, 12);
  for (auto& face : one) face.label = FractureLook::Mixed;
  CHECK(learn(one).failure().code == "too-few-labels");
}

TEST_CASE("judge says cannot tell, and why", "[surface]") {
  const auto learnt = learn(told_by_one(8.0, 90, 13));
  REQUIRE(learnt.ok());
  Appearance look;
  look.clipped_share = 0.4;
  const Judgement glare = judge(learnt.value(), look, {200.0, true});
  CHECK_FALSE(glare.verdict);
  CHECK(glare.reason.find("glare") != std::string::npos);
  look.clipped_share = 0.0;
  CHECK(judge(learnt.value(), look, {40.0, true}).reason.find("pixels") != std::string::npos);
  CHECK(judge(learnt.value(), look, {200.0, false}).reason.find("blurred") !=
        std::string::npos);
  look.roughness = {50.0, 50.0, 50.0};
  look.cooccurrence_contrast = 500.0;
  look.edge_rougher = look.roughness_spread = look.edge_lighter = 300.0;
  look.light_share = look.light_step = look.chroma_drop = 100.0;
  look.cooccurrence_entropy = look.pattern_uniform_share = look.edge_dimension = 90.0;
  CHECK(judge(learnt.value(), look, {200.0, true}).reason.find("unlike") != std::string::npos);
}
