// SPDX-License-Identifier: Apache-2.0
#include "ranking/simulate_ranks.h"

#include "core/expects.h"
#include "ranking/normal_draw.h"

#include <algorithm>
#include <cmath>
#include <tuple>
#include <utility>

namespace swingloss {
namespace {

/// The shared part of every mean in one world.
class SharedDraw {
 public:
  explicit SharedDraw(const SharedSources& shared) : shared_(shared) {
    for (const double nu : shared.degrees_of_freedom) {
      standard_.push_back(Belief::of_mean(0.0, 1.0, nu));
    }
    size_.resize(static_cast<Eigen::Index>(standard_.size()));
  }

  void draw(NormalDraw& normal, Eigen::VectorXd& shift) {
    for (std::size_t k = 0; k < standard_.size(); ++k) {
      size_(static_cast<Eigen::Index>(k)) = standard_[k].at(normal());
    }
    shift.noalias() = shared_.contributions * size_;
  }

 private:
  const SharedSources& shared_;
  std::vector<Belief> standard_;
  Eigen::VectorXd size_;
};

/// A group's mean in one world.
struct Drawn {
  double mean = 0.0;
  std::size_t group = 0;
};

/// Larger mean first; equal ones in the order given.
bool ahead(const Drawn& a, const Drawn& b) {
  return a.mean > b.mean || (a.mean == b.mean && a.group < b.group);
}

/// Puts a world that is nearly in order into order: groups come toughest first, and only
/// neighbours change places often, so that moving each into place beats a general sort.
void settle(std::vector<Drawn>& world) {
  for (std::size_t i = 1; i < world.size(); ++i) {
    const Drawn moving = world[i];
    std::size_t place = i;
    for (; place > 0 && ahead(moving, world[place - 1]); --place)
      world[place] = world[place - 1];
    world[place] = moving;
  }
}

}  // namespace

std::pair<int, int> rank_interval(const std::vector<double>& probability, double confidence) {
  const double tail = 0.5 * (1.0 - confidence);
  std::size_t low = 0;
  std::size_t high = probability.size() - 1;
  for (double left = probability[low]; left <= tail && low < high; left += probability[low])
    ++low;
  for (double left = probability[high]; left <= tail && high > low; left += probability[high]) {
    --high;
  }
  return {static_cast<int>(low) + 1, static_cast<int>(high) + 1};
}

std::vector<RankChances> simulate_ranks(const std::vector<Belief>& beliefs,
                                        const SharedSources& shared,
                                        const RankSimulation& options) {
  const std::size_t n = beliefs.size();
  expects(options.draws > 0, "a simulation of no worlds");
  expects(shared.contributions.rows() == static_cast<Eigen::Index>(n),
          "shared sources of other groups than those drawn");
  NormalDraw normal(options.seed);
  SharedDraw shared_draw(shared);
  Eigen::VectorXd shift = Eigen::VectorXd::Zero(static_cast<Eigen::Index>(n));
  std::vector<Drawn> world(n);
  std::vector<std::vector<int>> counts(n, std::vector<int>(n, 0));
  for (int draw = 0; draw < options.draws; ++draw) {
    shared_draw.draw(normal, shift);
    for (std::size_t g = 0; g < n; ++g) {
      world[g] = {beliefs[g].at(normal()) + shift(static_cast<Eigen::Index>(g)), g};
    }
    settle(world);
    for (std::size_t rank = 0; rank < n; ++rank) ++counts[world[rank].group][rank];
  }
  std::vector<RankChances> chances(n);
  for (std::size_t g = 0; g < n; ++g) {
    for (const int count : counts[g]) {
      chances[g].probability.push_back(static_cast<double>(count) / options.draws);
    }
    std::tie(chances[g].low, chances[g].high) =
        rank_interval(chances[g].probability, options.confidence);
  }
  return chances;
}

}  // namespace swingloss
