// SPDX-License-Identifier: Apache-2.0
// Rank correlation of the roughness features with the measured mean roughness Ra of real
// pictures: roughness_rank FOLDER, which holds labels.csv (file, mean_Ra) and the pictures.
// The pictures show only surface, so each is measured as one whole face.
#include "core/csv.h"
#include "core/input_error.h"
#include "imaging/still.h"
#include "surface/appearance.h"
#include "surface/plane_picture.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <numeric>

using namespace swingloss;

namespace {

std::vector<double> ranks_of(const std::vector<double>& values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), 0U);
  std::sort(order.begin(), order.end(), [&](auto a, auto b) { return values[a] < values[b]; });
  std::vector<double> ranks(values.size());
  for (std::size_t i = 0; i < order.size();) {
    std::size_t j = i;
    while (j < order.size() && values[order[j]] == values[order[i]]) ++j;
    for (std::size_t k = i; k < j; ++k) ranks[order[k]] = (double(i) + double(j) - 1.0) / 2.0;
    i = j;
  }
  return ranks;
}

double correlation(const std::vector<double>& x, const std::vector<double>& y) {
  const double n = double(x.size());
  const double mx = std::accumulate(x.begin(), x.end(), 0.0) / n;
  const double my = std::accumulate(y.begin(), y.end(), 0.0) / n;
  double xx = 0, yy = 0, xy = 0;
  for (std::size_t i = 0; i < x.size(); ++i) {
    xx += (x[i] - mx) * (x[i] - mx);
    yy += (y[i] - my) * (y[i] - my);
    xy += (x[i] - mx) * (y[i] - my);
  }
  return xy / std::sqrt(xx * yy);
}

/// Spearman's coefficient with Fisher's interval, 95 %, its variance after Bonett and Wright
/// 2000.
void print(const std::string& name,
           const std::vector<double>& feature,
           const std::vector<double>& Ra) {
  const double r = correlation(ranks_of(feature), ranks_of(Ra));
  const double half = 1.96 * std::sqrt((1.0 + r * r / 2.0) / (double(Ra.size()) - 3.0));
  std::printf("%-28s %+.2f   (%+.2f to %+.2f)\n",
              name.c_str(),
              r,
              std::tanh(std::atanh(r) - half),
              std::tanh(std::atanh(r) + half));
}

}  // namespace

int main(int count, char** words) {
  const std::string folder = count > 1 ? words[1] : SWINGLOSS_SHARED_ROUGHNESS;
  if (!std::filesystem::exists(folder + "/labels.csv")) {
    std::printf("skipped: no %s/labels.csv\n", folder.c_str());
    return 0;
  }
  const CsvTable table = read_csv(folder + "/labels.csv");
  std::vector<double> Ra;
  std::vector<Features> features;
  int left_out = 0;
  for (std::size_t row = 0; row < table.row_count(); ++row) {
    const std::string name = std::filesystem::path(table.text(row, "file")).filename().string();
    if (!std::filesystem::exists(folder + "/" + name)) {
      ++left_out;
      continue;
    }
    const Still still = read_still(folder + "/" + name);
    const PlanePicture plane = without_scale(still.bgr);
    const double right = plane.bgr.cols - 1.0;
    const double low = plane.bgr.rows - 1.0;
    const FacePatch patch =
        cut_patch(plane, {{{0, 0}, {right, 0}, {right, low}, {0, low}}}, 0.02);
    features.push_back(features_of(look_of(patch)));
    Ra.push_back(table.number(row, "mean_Ra"));
  }
  std::printf("%zu pictures (%d without a file), Spearman's coefficient with Ra, 95 %%\n",
              Ra.size(),
              left_out);
  for (std::size_t j = 0; j < feature_names().size(); ++j) {
    std::vector<double> one;
    for (const Features& f : features) one.push_back(f[j].value_or(0.0));
    if (*std::max_element(one.begin(), one.end()) == *std::min_element(one.begin(), one.end()))
      continue;
    print(feature_names()[j], one, Ra);
  }
  return 0;
}
