// Rows of plot values sorted out by their labels. For this room only.
#pragma once

#include <cstddef>
#include <map>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sync/results/plot_value.h"

namespace ligule::results {

using RowsOfTest = std::vector<const PlotValue*>;

// In the order of the values; all views and pointers are into them.
[[nodiscard]] std::map<std::string_view, RowsOfTest> rows_by_test(
    std::span<const PlotValue> values);

// The different labels of a column, in byte order, and each row's place among them.
struct NumberedLabels {
  std::vector<std::string> labels;
  std::vector<std::size_t> of_row;
};

[[nodiscard]] NumberedLabels number_labels(const RowsOfTest& rows, std::string PlotValue::*label);

}  // namespace ligule::results
