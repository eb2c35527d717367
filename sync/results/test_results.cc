#include "sync/results/test_results.h"

#include <algorithm>
#include <iterator>
#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "sync/results/in_parts.h"
#include "sync/results/numbered_labels.h"
#include "sync/results/one_test.h"
#include "sync/results/test_table.h"

namespace ligule::results {
namespace {

void add_test(const TestTable& table, const AnalysisOptions& options, TestResults& out) {
  for (const Range range : ranges_of(table, options.totals)) {
    const FittedRange fitted = fitted_range(table, range, options.design);
    out.analyses.push_back(analysis_of(table, fitted, options));
    if (std::optional<DesignGain> gain = gain_of(table, fitted, options.design))
      out.gains.push_back(*std::move(gain));
  }
  std::ranges::move(over_cuttings_of(table, options), std::back_inserter(out.over_cuttings));
  for (std::size_t entry = 0; entry < table.entries.size(); ++entry) {
    out.standings.push_back(
        {.test = table.test, .entry = table.entries[entry], .place = table.first_rows[entry]});
  }
}

template <class Row>
void append(std::vector<Row>& all, std::vector<Row>& more) {
  if (all.empty())
    all = std::move(more);
  else
    std::ranges::move(more, std::back_inserter(all));
}

}  // namespace

TestResults test_results(std::span<const PlotValue> values, const AnalysisOptions& options) {
  const auto by_test = rows_by_test(values);
  const std::vector<std::pair<std::string_view, RowsOfTest>> tests(by_test.begin(), by_test.end());
  TestResults all;
  for (TestResults& part :
       in_parts<TestResults>(tests.size(), values.size(), [&](std::size_t first, std::size_t last) {
         std::vector<TestResults> one(1);
         for (std::size_t i = first; i < last; ++i)
           add_test(test_table(std::string(tests[i].first), tests[i].second), options, one.front());
         return one;
       })) {
    append(all.analyses, part.analyses);
    append(all.over_cuttings, part.over_cuttings);
    append(all.gains, part.gains);
    append(all.standings, part.standings);
  }
  return all;
}

}  // namespace ligule::results
