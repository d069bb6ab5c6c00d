// SPDX-License-Identifier: Apache-2.0
#include "series/appearance_model.h"

#include "core/input_error.h"
#include "core/number_text.h"
#include "series/standard_model_text.h"

#include <cmath>

#include <nlohmann/json.hpp>

namespace swingloss {
namespace {

using Json = nlohmann::ordered_json;

constexpr const char* kFormat = "swingloss/appearance-model/1";
constexpr std::array<const char*, 3> kClasses = {"brittle", "mixed", "ductile"};

/// Six digits are more than the data bear, and can be read.
double short_number(double x) { return rounded_number(x, 6); }

Json confusion_of(const Eigen::Matrix3d& counts) {
  Json rows = Json::array();
  for (Eigen::Index i = 0; i < 3; ++i) {
    rows.push_back({counts(i, 0), counts(i, 1), counts(i, 2)});
  }
  return rows;
}

[[noreturn]] void refuse(const std::string& file,
                         const std::string& place,
                         const std::string& found) {
  throw InputError({file,
                    place,
                    found,
                    "a model written by swingloss surface --learn of this version",
                    "Learn it anew from your labels."});
}

void read_features(const Json& root, const std::string& file, AppearanceModel& model) {
  const Json& features = root.at("features");
  const auto n = Eigen::Index(features.size());
  if (features.size() != feature_names().size())
    refuse(file, "field features", "another number of features");
  model.mean.resize(n);
  model.scale.resize(n);
  model.weights.resize(3, n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const Json& feature = features.at(std::size_t(i));
    const std::string name = feature.at("name").get<std::string>();
    if (name != feature_names()[std::size_t(i)])
      refuse(file, "field features", "feature \"" + name + "\"");
    model.features.push_back(name);
    model.mean[i] = feature.at("mean").get<double>();
    model.scale[i] = feature.at("scale").get<double>();
    if (!(model.scale[i] > 0.0)) refuse(file, "field features", "a scale that is not above 0");
    for (std::size_t k = 0; k < 3; ++k) {
      model.weights(Eigen::Index(k), i) = feature.at("weights").at(k).get<double>();
    }
  }
}

void read_account(const Json& root, AppearanceModel& model) {
  const Json& account = root.at("account");
  LearnAccount& out = model.account;
  out.bars = account.at("bars").get<int>();
  out.faces = account.at("faces").get<int>();
  out.accuracy = account.at("accuracy").get<double>();
  out.accuracy_low = account.at("accuracy_95").at(0).get<double>();
  out.accuracy_high = account.at("accuracy_95").at(1).get<double>();
  out.log_loss = account.at("log_loss").get<double>();
  for (std::size_t i = 0; i < 3; ++i) {
    for (std::size_t j = 0; j < 3; ++j) {
      out.confusion(Eigen::Index(i), Eigen::Index(j)) =
          account.at("confusion").at(i).at(j).get<double>();
    }
  }
}

}  // namespace

AppearanceModel parse_model(const std::string& text, const std::string& file) {
  AppearanceModel model;
  try {
    const Json root = Json::parse(text);
    if (root.at("format") != kFormat) refuse(file, "field format", "another format");
    model.trained_on = root.at("trained_on").get<std::string>();
    model.modesty = root.at("modesty").get<double>();
    for (std::size_t k = 0; k < 3; ++k)
      model.bias[Eigen::Index(k)] = root.at("bias").at(k).get<double>();
    read_features(root, file, model);
    read_account(root, model);
  } catch (const Json::exception& error) {
    refuse(file, "", std::string("no such model (") + error.what() + ")");
  }
  return model;
}

std::string model_json(const AppearanceModel& model) {
  Json root = {{"format", kFormat},
               {"trained_on", model.trained_on},
               {"classes", kClasses},
               {"modesty", model.modesty},
               {"bias",
                {short_number(model.bias[0]),
                 short_number(model.bias[1]),
                 short_number(model.bias[2])}}};
  root["features"] = Json::array();
  for (std::size_t i = 0; i < model.features.size(); ++i) {
    const auto j = Eigen::Index(i);
    root["features"].push_back({{"name", model.features[i]},
                                {"mean", short_number(model.mean[j])},
                                {"scale", short_number(model.scale[j])},
                                {"weights",
                                 {short_number(model.weights(0, j)),
                                  short_number(model.weights(1, j)),
                                  short_number(model.weights(2, j))}}});
  }
  const LearnAccount& a = model.account;
  root["account"] = {
      {"bars", a.bars},
      {"faces", a.faces},
      {"accuracy", short_number(a.accuracy)},
      {"accuracy_95", {short_number(a.accuracy_low), short_number(a.accuracy_high)}},
      {"log_loss", short_number(a.log_loss)},
      {"confusion", confusion_of(a.confusion)}};
  return root.dump(1) + "\n";
}

std::string account_of(const AppearanceModel& model) {
  const LearnAccount& a = model.account;
  std::string text =
      "Trained on " + model.trained_on + ": " + std::to_string(a.faces) + " faces of " +
      std::to_string(a.bars) + " bars.\n" +
      "Each bar judged by a model that had not seen it: " + fixed_text(100.0 * a.accuracy, 0) +
      " % right (95 %: " + fixed_text(100.0 * a.accuracy_low, 0) + " to " +
      fixed_text(100.0 * a.accuracy_high, 0) + " %).\n\n" +
      "label \\ judged  brittle    mixed  ductile\n";
  for (Eigen::Index i = 0; i < 3; ++i) {
    std::string line = kClasses[std::size_t(i)];
    line.resize(14, ' ');
    for (Eigen::Index j = 0; j < 3; ++j) {
      const std::string count = fixed_text(a.confusion(i, j), 0);
      line += std::string(9 - count.size(), ' ') + count;
    }
    text += line + "\n";
  }
  return text;
}

const AppearanceModel& standard_model() {
  static const AppearanceModel model =
      parse_model(standard_model_text(), "calibration/appearance/model.json");
  return model;
}

}  // namespace swingloss
