// SPDX-License-Identifier: Apache-2.0
#include "core/number_text.h"
#include "surface/judge.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>

#include <Eigen/Cholesky>

namespace swingloss {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXd;

constexpr std::size_t kFewestBars = 6;
constexpr Index kClasses = 3;

/// Standardised features with a leading 1, and the labels.
struct Table {
  MatrixXd x;
  std::vector<Index> label;
};

Table table_of(const AppearanceModel& model, const std::vector<const LabelledFace*>& faces) {
  Table table;
  const Index n = model.mean.size();
  table.x.resize(Index(faces.size()), n + 1);
  for (std::size_t i = 0; i < faces.size(); ++i) {
    table.x(Index(i), 0) = 1.0;
    table.x.row(Index(i)).tail(n) = model.standardised(faces[i]->features).transpose();
    table.label.push_back(Index(faces[i]->label));
  }
  return table;
}

MatrixXd probabilities(const Table& table, const MatrixXd& beta) {
  MatrixXd p = table.x * beta.transpose();
  for (Index i = 0; i < p.rows(); ++i) {
    p.row(i) = (p.row(i).array() - p.row(i).maxCoeff()).exp();
    p.row(i) /= p.row(i).sum();
  }
  return p;
}

/// Probability of a class less its label, a face each.
VectorXd excess(const Table& table, const MatrixXd& p, Index a) {
  VectorXd off = p.col(a);
  for (Index i = 0; i < off.size(); ++i) off[i] -= table.label[std::size_t(i)] == a ? 1.0 : 0.0;
  return off;
}

/// The likelihood's curvature, classes by classes, without the penalty.
MatrixXd curvature(const Table& table, const MatrixXd& p) {
  const Index width = table.x.cols();
  MatrixXd curve = MatrixXd::Zero(kClasses * width, kClasses * width);
  for (Index a = 0; a < kClasses; ++a) {
    for (Index b = 0; b < kClasses; ++b) {
      const VectorXd weight = p.col(a).cwiseProduct(
          (a == b ? VectorXd::Ones(p.rows()) : VectorXd::Zero(p.rows())) - p.col(b));
      curve.block(a * width, b * width, width, width) =
          table.x.transpose() * weight.asDiagonal() * table.x;
    }
  }
  return curve;
}

/// Penalised likelihood by Newton's method. It is concave, so it has one maximum; the penalty
/// on the bias is a hundredth, enough to tell it from a shift of all classes.
MatrixXd fit(const Table& table, const MatrixXd& start, double ridge) {
  const Index width = table.x.cols();
  MatrixXd beta = start;
  VectorXd penalty = VectorXd::Constant(width, ridge);
  penalty[0] = 0.01 * ridge;
  for (int round = 0; round < 30; ++round) {
    const MatrixXd p = probabilities(table, beta);
    VectorXd slope = VectorXd::Zero(kClasses * width);
    MatrixXd curve = curvature(table, p);
    for (Index a = 0; a < kClasses; ++a) {
      slope.segment(a * width, width) =
          table.x.transpose() * excess(table, p, a) +
          penalty.cwiseProduct((beta.row(a) - start.row(a)).transpose());
      curve.block(a * width, a * width, width, width).diagonal() += penalty;
    }
    const VectorXd step = curve.ldlt().solve(slope);
    for (Index a = 0; a < kClasses; ++a)
      beta.row(a) -= step.segment(a * width, width).transpose();
    if (step.norm() < 1e-9) break;
  }
  return beta;
}

void standardise(const std::vector<LabelledFace>& faces, AppearanceModel& model) {
  const auto n = Index(faces.front().features.size());
  model.mean = VectorXd::Zero(n);
  model.scale = VectorXd::Zero(n);
  for (Index j = 0; j < n; ++j) {
    std::vector<double> seen;
    for (const auto& face : faces) {
      if (const auto& one = face.features[std::size_t(j)]) seen.push_back(*one);
    }
    model.scale[j] = 1.0;
    if (seen.empty()) continue;
    const Eigen::Map<const VectorXd> values(seen.data(), Index(seen.size()));
    model.mean[j] = values.mean();
    const double square = (values.array() - model.mean[j]).square().mean();
    model.scale[j] = std::max(1e-6, std::sqrt(square));
  }
}

/// Wilson's interval of a share, 95 %.
std::pair<double, double> wilson(double share, double n) {
  constexpr double z = 1.959963984540054;
  const double middle = (share + z * z / (2.0 * n)) / (1.0 + z * z / n);
  const double half =
      z / (1.0 + z * z / n) * std::sqrt(share * (1.0 - share) / n + z * z / (4.0 * n * n));
  return {std::max(0.0, middle - half), std::min(1.0, middle + half)};
}

void set_weights(const MatrixXd& beta, AppearanceModel& model) {
  model.bias = beta.col(0);
  model.weights = beta.rightCols(beta.cols() - 1);
}

LearnAccount leave_each_out(const std::vector<LabelledFace>& faces,
                            const AppearanceModel& model,
                            const MatrixXd& start,
                            double ridge) {
  LearnAccount account;
  account.faces = int(faces.size());
  std::map<std::string, std::vector<const LabelledFace*>> by_bar;
  for (const LabelledFace& face : faces) by_bar[face.bar].push_back(&face);
  account.bars = int(by_bar.size());
  double right = 0.0;
  for (const auto& [bar, left_out] : by_bar) {
    std::vector<const LabelledFace*> others;
    for (const LabelledFace& face : faces) {
      if (face.bar != bar) others.push_back(&face);
    }
    AppearanceModel blind = model;
    set_weights(fit(table_of(model, others), start, ridge), blind);
    for (const LabelledFace* face : left_out) {
      const auto p = blind.probabilities(face->features);
      const auto judged = std::max_element(p.begin(), p.end()) - p.begin();
      account.confusion(Index(face->label), judged) += 1.0;
      account.log_loss -= std::log(p[std::size_t(face->label)]) / double(faces.size());
      right += Index(face->label) == judged ? 1.0 : 0.0;
    }
  }
  account.accuracy = right / double(faces.size());
  std::tie(account.accuracy_low, account.accuracy_high) =
      wilson(account.accuracy, double(account.bars));
  return account;
}

}  // namespace

Result<AppearanceModel> learn(const std::vector<LabelledFace>& faces,
                              const LearnOptions& options) {
  std::array<std::set<std::string>, 3> bars;
  std::set<std::string> all;
  for (const LabelledFace& face : faces) {
    bars[std::size_t(face.label)].insert(face.bar);
    all.insert(face.bar);
  }
  const auto classes =
      std::count_if(bars.begin(), bars.end(), [](const auto& b) { return b.size() >= 2; });
  if (all.size() < kFewestBars || classes < 2) {
    return Failure{"too-few-labels",
                   std::to_string(all.size()) + " labelled bars, " + std::to_string(classes) +
                       " classes with two bars or more",
                   "Label six bars at least, better ten and more, of two classes or three."};
  }
  AppearanceModel model;
  model.features = feature_names();
  model.modesty = options.modesty;
  model.trained_on = options.trained_on;
  MatrixXd start = MatrixXd::Zero(kClasses, Index(faces.front().features.size()) + 1);
  if (options.prior != nullptr) {
    model.mean = options.prior->mean;
    model.scale = options.prior->scale;
    start << options.prior->bias, options.prior->weights;
  } else {
    standardise(faces, model);
  }
  std::vector<const LabelledFace*> everyone;
  everyone.reserve(faces.size());
  for (const LabelledFace& face : faces) everyone.push_back(&face);
  set_weights(fit(table_of(model, everyone), start, options.ridge), model);
  model.account = leave_each_out(faces, model, start, options.ridge);
  return model;
}

}  // namespace swingloss
