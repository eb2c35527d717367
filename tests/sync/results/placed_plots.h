// A made-up test whose plots have places, for tests of what the ground does.
#pragma once

#include <functional>
#include <random>
#include <string>
#include <vector>

#include "sync/results/plot_value.h"

namespace ligule::results {

// 12 entries in 4 blocks of 2 rows and 6 columns (rows 1 to 8), drawn anew by `seed`: entries half
// a unit apart, plots of one entry a standard deviation of `error`, and what the ground adds.
inline std::vector<PlotValue> placed_plots(
    unsigned seed, double error,
    const std::function<double(PlotPlace)>& ground = [](PlotPlace) { return 0.0; }) {
  std::mt19937 random(seed);
  std::normal_distribution<double> chance(0.0, 1.0);
  std::vector<PlotValue> values;
  for (int block = 0; block < 4; ++block) {
    std::vector<int> order(12);
    for (int i = 0; i < 12; ++i) order[static_cast<std::size_t>(i)] = i;
    for (std::size_t i = order.size() - 1; i > 0; --i)
      std::swap(order[i], order[random() % (i + 1)]);
    for (int i = 0; i < 12; ++i) {
      const int entry = order[static_cast<std::size_t>(i)];
      PlotValue value;
      value.test = "T";
      value.year = 2026;
      value.cutting = "1";
      value.rep = std::to_string(block + 1);
      value.entry = std::string(1, static_cast<char>('A' + entry));
      value.place = PlotPlace{2 * block + 1 + i / 6, 1 + i % 6};
      value.plot = std::to_string(100 * (block + 1) + i + 1);
      value.value =
          10.0 + 0.5 * entry + 0.25 * block + error * chance(random) + ground(*value.place);
      values.push_back(std::move(value));
    }
  }
  return values;
}

// A Latin square: entries A, B ... `error` apart at random.
inline std::vector<PlotValue> square_plots(int size, unsigned seed, double error = 1.0) {
  std::mt19937 random(seed);
  std::normal_distribution<double> chance(0.0, 1.0);
  std::vector<PlotValue> values;
  for (int row = 1; row <= size; ++row) {
    for (int column = 1; column <= size; ++column) {
      const int entry = (row + column) % size;
      PlotValue value;
      value.test = "T";
      value.year = 2026;
      value.cutting = "1";
      value.rep = std::to_string(row);
      value.entry = std::string(1, static_cast<char>('A' + entry));
      value.place = PlotPlace{row, column};
      value.plot = std::to_string(100 * row + column);
      value.value = 5.0 + entry + 0.5 * row - 0.25 * column + error * chance(random);
      values.push_back(std::move(value));
    }
  }
  return values;
}

}  // namespace ligule::results
