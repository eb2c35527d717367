#include "sync/results/numbered_labels.h"

#include <algorithm>
#include <numeric>
#include <unordered_map>

namespace ligule::results {

std::map<std::string_view, RowsOfTest> rows_by_test(std::span<const PlotValue> values) {
  std::map<std::string_view, RowsOfTest> tests;
  auto test = tests.end();
  for (const PlotValue& value : values) {
    // Neighbouring rows are mostly of one test.
    if (test == tests.end() || test->first != value.test) {
      test = tests.try_emplace(value.test).first;
    }
    test->second.push_back(&value);
  }
  return tests;
}

NumberedLabels number_labels(const RowsOfTest& rows, std::string PlotValue::*label) {
  std::unordered_map<std::string_view, std::size_t> places;
  std::vector<std::string_view> found;
  NumberedLabels out;
  out.of_row.reserve(rows.size());
  for (const PlotValue* row : rows) {
    const std::string_view text = row->*label;
    // Neighbours share most labels too, and entries come in the same order in every block: no look
    // into the map where the last label or the one after it fits.
    if (!out.of_row.empty()) {
      const std::size_t last = out.of_row.back();
      const std::size_t next = last + 1 < found.size() ? last + 1 : 0;
      if (found[last] == text || found[next] == text) {
        out.of_row.push_back(found[last] == text ? last : next);
        continue;
      }
    }
    const auto [place, is_new] = places.try_emplace(text, found.size());
    if (is_new) found.push_back(text);
    out.of_row.push_back(place->second);
  }
  std::vector<std::size_t> sorted(found.size());
  std::iota(sorted.begin(), sorted.end(), std::size_t{0});
  std::ranges::sort(sorted, {}, [&](std::size_t place) { return found[place]; });
  std::vector<std::size_t> rank(found.size());
  for (std::size_t i = 0; i < sorted.size(); ++i) {
    rank[sorted[i]] = i;
    out.labels.emplace_back(found[sorted[i]]);
  }
  for (std::size_t& place : out.of_row) place = rank[place];
  return out;
}

}  // namespace ligule::results
