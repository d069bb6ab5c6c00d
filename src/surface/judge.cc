// SPDX-License-Identifier: Apache-2.0
#include "surface/judge.h"

#include "core/expects.h"
#include "core/number_text.h"

#include <algorithm>
#include <cmath>

namespace swingloss {
namespace {

constexpr double kLeastProbability = 0.55;
constexpr double kFewest_px = 80.0;
constexpr double kMostClipped = 0.25;
constexpr double kStrange = 2.0;
constexpr double kUnplaced = 0.4;  // kept back where no bar's end stands out of the picture
constexpr double kFarthest = 4.0;  // scales; one odd feature alone shall not decide

std::string percent(double share) { return fixed_text(100.0 * share, 0) + " %"; }

/// The two features that speak most for a class, in words.
std::string why(const AppearanceModel& model, const Eigen::VectorXd& z, Eigen::Index look) {
  std::vector<std::pair<double, std::size_t>> parts;
  for (Eigen::Index i = 0; i < z.size(); ++i) {
    parts.emplace_back(model.weights(look, i) * z[i], std::size_t(i));
  }
  std::sort(parts.rbegin(), parts.rend());
  std::string words;
  for (std::size_t k = 0; k < 2 && parts[k].first > 0.0; ++k) {
    const bool more = z[Eigen::Index(parts[k].second)] > 0.0;
    words += (words.empty() ? "" : ", ") + std::string(more ? "more " : "less ") +
             model.features[parts[k].second];
  }
  return words.empty() ? "nothing stands out" : words + " than most";
}

}  // namespace

const char* name_of(FractureLook look) {
  switch (look) {
    case FractureLook::Brittle:
      return "brittle";
    case FractureLook::Mixed:
      return "mixed";
    case FractureLook::Ductile:
      return "ductile";
  }
  return "";
}

const std::vector<std::string>& feature_names() {
  static const std::vector<std::string> names = {"light part",
                                                 "step of the light part",
                                                 "loss of colour",
                                                 "fine roughness",
                                                 "middle roughness",
                                                 "coarse roughness",
                                                 "unevenness of roughness",
                                                 "roughness at the edges",
                                                 "lightness at the edges",
                                                 "local contrast",
                                                 "likeness of neighbours",
                                                 "smoothness",
                                                 "disorder",
                                                 "simple patterns",
                                                 "dimension of edges",
                                                 "glints",
                                                 "skew of brightness",
                                                 "specks",
                                                 "drawing-in at the notch",
                                                 "swelling at the far side"};
  return names;
}

Features features_of(const Appearance& look) {
  const auto held = [](const std::optional<double>& seen, double low, double high) {
    return seen ? std::optional(std::clamp(*seen, low, high)) : std::nullopt;
  };
  return {look.light_share,
          look.light_step,
          look.chroma_drop,
          std::log(0.003 + look.roughness[0]),
          std::log(0.003 + look.roughness[1]),
          std::log(0.003 + look.roughness[2]),
          look.roughness_spread,
          look.edge_rougher,
          look.edge_lighter,
          look.cooccurrence_contrast,
          look.cooccurrence_correlation,
          look.cooccurrence_homogeneity,
          look.cooccurrence_entropy,
          look.pattern_uniform_share,
          look.edge_dimension,
          std::sqrt(look.glint_share),
          std::clamp(look.brightness_skew, -4.0, 4.0),
          std::log1p(look.speckles),
          held(look.contraction, -0.2, 0.2),
          held(look.swelling, -0.2, 0.3)};
}

Eigen::VectorXd AppearanceModel::standardised(const Features& x) const {
  expects(x.size() == std::size_t(mean.size()), "judge: features of another model");
  Eigen::VectorXd z = Eigen::VectorXd::Zero(mean.size());
  for (Eigen::Index i = 0; i < z.size(); ++i) {
    const std::optional<double>& seen = x[std::size_t(i)];
    if (seen) z[i] = std::clamp((*seen - mean[i]) / scale[i], -kFarthest, kFarthest);
  }
  return z;
}

std::array<double, 3> AppearanceModel::probabilities(const Features& x) const {
  const Eigen::Vector3d score = bias + weights * standardised(x);
  const Eigen::Vector3d grown = (score.array() - score.maxCoeff()).exp();
  std::array<double, 3> p{};
  for (Eigen::Index k = 0; k < 3; ++k) {
    p[std::size_t(k)] = (1.0 - modesty) * grown[k] / grown.sum() + modesty / 3.0;
  }
  return p;
}

double AppearanceModel::strangeness(const Features& x) const {
  const Eigen::VectorXd z = standardised(x);
  const auto seen =
      std::count_if(x.begin(), x.end(), [](const auto& f) { return f.has_value(); });
  return std::sqrt(z.squaredNorm() / std::max(1.0, double(seen)));
}

Judgement judge(const AppearanceModel& model,
                const Appearance& look,
                const PictureState& picture) {
  Judgement out;
  const Features x = features_of(look);
  if (look.clipped_share > kMostClipped) {
    out.reason = "glare or overexposure covers " + percent(look.clipped_share) + " of the face";
    return out;
  }
  if (picture.source_px < kFewest_px) {
    out.reason = "the face has only " + fixed_text(picture.source_px, 0) + " pixels across; " +
                 fixed_text(kFewest_px, 0) + " are the least";
    return out;
  }
  if (!picture.sharp) {
    out.reason = "the picture is blurred";
    return out;
  }
  out.probability = model.probabilities(x);
  if (!picture.outlined) {
    for (double& p : out.probability) p = (1.0 - kUnplaced) * p + kUnplaced / 3.0;
  }
  if (model.strangeness(x) > kStrange) {
    out.reason = "the face is unlike all that the model was trained on";
    return out;
  }
  const auto likeliest = std::max_element(out.probability.begin(), out.probability.end());
  const auto k = likeliest - out.probability.begin();
  out.reason = why(model, model.standardised(x), k);
  if (*likeliest < kLeastProbability) {
    out.reason = "no class reaches " + percent(kLeastProbability) + ": " +
                 percent(out.probability[0]) + " brittle, " + percent(out.probability[1]) +
                 " mixed, " + percent(out.probability[2]) + " ductile";
    return out;
  }
  out.verdict = static_cast<FractureLook>(k);
  return out;
}

}  // namespace swingloss
