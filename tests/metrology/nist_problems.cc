// SPDX-License-Identifier: Apache-2.0
#include "nist_problems.h"

#include <cmath>
#include <fstream>
#include <iostream>
#include <map>
#include <sstream>

namespace swingloss::test {
namespace {

Eigen::VectorXd vector_of(const std::vector<double>& values) {
  return Eigen::Map<const Eigen::VectorXd>(values.data(),
                                           static_cast<Eigen::Index>(values.size()));
}

double rational_cubic(double x, const Eigen::VectorXd& b) {
  return (b[0] + x * (b[1] + x * (b[2] + x * b[3]))) /
         (1.0 + x * (b[4] + x * (b[5] + x * b[6])));
}

/// Lines `first` to `last` (from 1) of a text, as numbers; words such as "b1 =" are left out.
std::vector<std::vector<double>> numbers_in(const std::vector<std::string>& lines,
                                            std::size_t first,
                                            std::size_t last) {
  std::vector<std::vector<double>> table;
  for (std::size_t i = first; i <= last && i <= lines.size(); ++i) {
    std::istringstream words(lines[i - 1]);
    std::vector<double> row;
    for (std::string word; words >> word;) {
      std::istringstream number(word);
      double value = 0.0;
      if (number >> value) row.push_back(value);
    }
    if (!row.empty()) table.push_back(row);
  }
  return table;
}

Eigen::VectorXd column(const std::vector<std::vector<double>>& table, std::size_t index) {
  std::vector<double> values;
  values.reserve(table.size());
  for (const std::vector<double>& row : table) values.push_back(row.at(index));
  return vector_of(values);
}

/// The number after the colon of the line that starts with `title`.
double figure_after(const std::vector<std::string>& lines, const std::string& title) {
  for (const std::string& line : lines) {
    if (line.rfind(title, 0) == 0) return std::stod(line.substr(line.find(':') + 1));
  }
  return std::nan("");
}

}  // namespace

NistModel nist_model(const std::string& name) {
  using V = const Eigen::VectorXd&;
  using std::exp;
  using std::pow;
  static const std::map<std::string, NistModel> models = {
      {"Misra1a", [](double x, V b) { return b[0] * (1.0 - exp(-b[1] * x)); }},
      {"Misra1b", [](double x, V b) { return b[0] * (1.0 - pow(1.0 + b[1] * x / 2.0, -2)); }},
      {"BoxBOD", [](double x, V b) { return b[0] * (1.0 - exp(-b[1] * x)); }},
      {"DanWood", [](double x, V b) { return b[0] * pow(x, b[1]); }},
      {"Chwirut2", [](double x, V b) { return exp(-b[0] * x) / (b[1] + b[2] * x); }},
      {"Rat42", [](double x, V b) { return b[0] / (1.0 + exp(b[1] - b[2] * x)); }},
      {"Rat43",
       [](double x, V b) { return b[0] / pow(1.0 + exp(b[1] - b[2] * x), 1.0 / b[3]); }},
      {"Thurber", rational_cubic},
      {"MGH09",
       [](double x, V b) { return b[0] * (x * x + x * b[1]) / (x * x + x * b[2] + b[3]); }},
      {"MGH10", [](double x, V b) { return b[0] * exp(b[1] / (x + b[2])); }},
      {"Eckerle4",
       [](double x, V b) { return b[0] / b[1] * exp(-0.5 * pow((x - b[2]) / b[1], 2)); }},
      {"Bennett5", [](double x, V b) { return b[0] * pow(b[1] + x, -1.0 / b[2]); }},
  };
  const auto found = models.find(name);
  return found == models.end() ? NistModel() : found->second;
}

// Statistical Reference Datasets, Nonlinear Least Squares Regression, National Institute of
// Standards and Technology: files Misra1a.dat, DanWood.dat, Rat42.dat, BoxBOD.dat. [NISTStRD]
std::vector<NistProblem> nist_problems_at_hand() {
  std::vector<NistProblem> problems;
  problems.push_back({"Misra1a",
                      nist_model("Misra1a"),
                      vector_of({10.07,
                                 14.73,
                                 17.94,
                                 23.93,
                                 29.61,
                                 35.18,
                                 40.02,
                                 44.82,
                                 50.76,
                                 55.05,
                                 61.01,
                                 66.40,
                                 75.47,
                                 81.78}),
                      vector_of({77.6,
                                 114.9,
                                 141.1,
                                 190.8,
                                 239.9,
                                 289.0,
                                 332.8,
                                 378.4,
                                 434.8,
                                 477.3,
                                 536.8,
                                 593.1,
                                 689.1,
                                 760.0}),
                      vector_of({500.0, 0.0001}),
                      vector_of({250.0, 0.0005}),
                      vector_of({2.3894212918e2, 5.5015643181e-4}),
                      vector_of({2.7070075241, 7.2668688436e-6}),
                      1.2455138894e-1,
                      12});
  problems.push_back({"DanWood",
                      nist_model("DanWood"),
                      vector_of({2.138, 3.421, 3.597, 4.340, 4.882, 5.660}),
                      vector_of({1.309, 1.471, 1.490, 1.565, 1.611, 1.680}),
                      vector_of({1.0, 5.0}),
                      vector_of({0.7, 4.0}),
                      vector_of({7.6886226176e-1, 3.8604055871}),
                      vector_of({1.8281973860e-2, 5.1726610913e-2}),
                      4.3173084083e-3,
                      4});
  problems.push_back(
      {"Rat42",
       nist_model("Rat42"),
       vector_of({8.930, 10.800, 18.590, 22.330, 39.350, 56.110, 61.730, 64.620, 67.080}),
       vector_of({9.0, 14.0, 21.0, 28.0, 42.0, 57.0, 63.0, 70.0, 79.0}),
       vector_of({100.0, 1.0, 0.1}),
       vector_of({75.0, 2.5, 0.07}),
       vector_of({7.2462237576e1, 2.6180768402, 6.7359200066e-2}),
       vector_of({1.7340283401, 8.8295217536e-2, 3.4465663377e-3}),
       8.0565229338,
       6});
  problems.push_back({"BoxBOD",
                      nist_model("BoxBOD"),
                      vector_of({109.0, 149.0, 149.0, 191.0, 213.0, 224.0}),
                      vector_of({1.0, 2.0, 3.0, 5.0, 7.0, 10.0}),
                      vector_of({1.0, 1.0}),
                      vector_of({100.0, 0.75}),
                      vector_of({2.1380940889e2, 5.4723748542e-1}),
                      vector_of({1.2354515176e1, 1.0455993237e-1}),
                      1.1680088766e3,
                      4});
  return problems;
}

std::optional<NistProblem> nist_problem_from_file(const std::string& name) {
  const std::string path =
      std::string(SWINGLOSS_SOURCE_DIR) + "/../shared/reference/nist/nist_nls/" + name + ".dat";
  std::ifstream file(path);
  if (!file) {
    std::cout << "skipped: NIST " << name << ".dat is not beside the checkout\n";
    return {};
  }
  std::vector<std::string> lines;
  for (std::string line; std::getline(file, line);) {
    if (!line.empty() && line.back() == '\r') line.pop_back();
    lines.push_back(line);
  }
  // Every file has its parameters from line 41 and its data from line 61.
  const auto parameters = numbers_in(lines, 41, 59);
  std::vector<std::vector<double>> rows;
  for (const auto& row : parameters) {
    if (row.size() == 4) rows.push_back(row);
  }
  const auto data = numbers_in(lines, 61, lines.size());
  // Not from the line "Degrees of Freedom": that of Rat43.dat says 9, while its 15 data, its 4
  // parameters and its residual standard deviation all say 11.
  const double squares = figure_after(lines, "Residual Sum of Squares");
  const double deviation = figure_after(lines, "Residual Standard Deviation");
  const auto dof = static_cast<int>(std::lround(squares / (deviation * deviation)));
  return NistProblem{name,
                     nist_model(name),
                     column(data, 0),
                     column(data, 1),
                     column(rows, 0),
                     column(rows, 1),
                     column(rows, 2),
                     column(rows, 3),
                     squares,
                     dof};
}

}  // namespace swingloss::test
