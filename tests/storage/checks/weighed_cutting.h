// Cuttings with nothing wrong, for the rates at which checks are right and wrong.
#pragma once

#include <algorithm>
#include <numeric>
#include <random>
#include <string>
#include <vector>

#include "storage/checks/exchanged.h"

namespace ligule::checks::tests {

struct Chance {
  int entries = 24;
  int blocks = 4;
  double cv = 0.1;      // of a plot about its block and entry, as a share of the mean
  double apart = 0.15;  // standard deviation of entries, as a share of the mean
};

// Along the plot path, in another order in every block; entries differ with a standard deviation of
// 15 percent if nothing else is said and blocks of 5 (common practice, no source). Weights are
// normal, about 10.
inline WeighedPath weighed_cutting(const Chance& chance, std::mt19937& random) {
  std::normal_distribution<double> normal;
  std::vector<double> entries(static_cast<std::size_t>(chance.entries));
  for (double& entry : entries) entry = 1 + chance.apart * normal(random);
  std::vector<std::size_t> order(entries.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  WeighedPath path;
  for (int block = 1; block <= chance.blocks; ++block) {
    const double fertility = 0.05 * normal(random);
    std::ranges::shuffle(order, random);
    for (const std::size_t entry : order)
      path.emplace_back(
          WeighedPlot{block, "E" + std::to_string(entry),
                      10 * (entries[entry] + fertility + chance.cv * normal(random))});
  }
  return path;
}

}  // namespace ligule::checks::tests
