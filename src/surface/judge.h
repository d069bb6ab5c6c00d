// SPDX-License-Identifier: Apache-2.0
/// \file judge.h
/// Brittle, mixed or ductile, with probabilities, or "cannot tell".
#pragma once

#include "core/result.h"
#include "surface/measures.h"

#include <string>
#include <vector>

#include <Eigen/Core>

namespace swingloss {

/// How well a model does on bars that it has not seen: each bar is left out once.
struct LearnAccount {
  int bars = 0, faces = 0;
  double accuracy = 0.0;  ///< share of faces whose likeliest class is the label
  double accuracy_low = 0.0, accuracy_high = 1.0;       ///< 95 %, by bars [Wilson1927]
  Eigen::Matrix3d confusion = Eigen::Matrix3d::Zero();  ///< faces; row: label, column: judged
  double log_loss = 0.0;  ///< mean of -ln of the label's stated probability; ln 3 knows nothing
};

/// Multinomial logistic model of standardised features.
///
///   p_k = (1 - modesty) softmax_k(bias + weights (x - mean) / scale) + modesty / 3
///
/// Small enough to be read: one weight a class and feature.
struct AppearanceModel {
  std::string trained_on;  ///< in words, for the report
  std::vector<std::string> features;
  Eigen::VectorXd mean, scale;
  Eigen::MatrixXd weights;  ///< a row a class: brittle, mixed, ductile
  Eigen::Vector3d bias = Eigen::Vector3d::Zero();
  /// Kept back from every probability, since the bars before the camera are not those of the
  /// training: no class is ever given less than a third of it.
  double modesty = 0.15;
  LearnAccount account;

  /// In scales from the training's mean, held within 4: one odd feature alone shall not decide.
  /// 0 for a feature that was not seen: it speaks for no class.
  [[nodiscard]] Eigen::VectorXd standardised(const Features& features) const;
  [[nodiscard]] std::array<double, 3> probabilities(const Features& features) const;
  /// Root mean square of the standardised features that were seen: 1 for what is like the
  /// training.
  [[nodiscard]] double strangeness(const Features& features) const;
};

/// What is known of the picture of the face beside its look.
struct PictureState {
  double source_px = 0.0;  ///< root of the face's area in the photograph
  bool sharp = true;
  /// A bar's end with four sides was told from the ground around it. Else the picture may show
  /// anything, and two fifths of every probability are kept back beside the model's own
  /// modesty.
  bool outlined = true;
};

/// \return the verdict where the likeliest class has 55 % at least; else none, with the reason:
///   glare over a quarter of the face, fewer than 80 pixels, blurred, unlike all that the model
///   was trained on (strangeness above 2), or two classes about as likely
[[nodiscard]] Judgement judge(const AppearanceModel& model,
                              const Appearance& look,
                              const PictureState& picture);

/// One labelled face.
struct LabelledFace {
  std::string bar;
  Features features;
  FractureLook label = FractureLook::Brittle;
};

struct LearnOptions {
  /// Weight of the prior on each weight, in units of faces. With few faces the weights stay
  /// near those of `prior`, or near 0 without one.
  double ridge = 3.0;
  double modesty = 0.15;
  const AppearanceModel* prior = nullptr;  ///< its mean, scale and weights are the start
  std::string trained_on;
};

/// Fits the weights and judges every bar by a model that has not seen it.
/// \return Failure `too-few-labels`: fewer than six bars, or two classes at least with two bars
[[nodiscard]] Result<AppearanceModel> learn(const std::vector<LabelledFace>& faces,
                                            const LearnOptions& options = {});

}  // namespace swingloss
