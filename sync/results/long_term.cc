#include "sync/results/long_term.h"

#include <map>
#include <string_view>

namespace ligule::results {

std::vector<LongTermRow> long_term(std::span<const Analysis> analyses, std::size_t min_tests) {
  std::map<std::string_view, LongTermRow> rows;
  for (std::size_t i = 0; i < analyses.size(); ++i) {
    const Analysis& analysis = analyses[i];
    for (const EntryMean& entry : analysis.means) rows[entry.entry].entry = entry.entry;
    const bool last = i + 1 == analyses.size() || analyses[i + 1].test != analysis.test;
    if (!last) continue;
    for (const EntryMean& entry : analysis.means) {
      if (!entry.percent_of_mean) continue;
      rows[entry.entry].tests.push_back({analysis.test, *entry.percent_of_mean});
    }
  }
  std::vector<LongTermRow> out;
  for (auto& [entry, row] : rows) {
    if (!row.tests.empty() && row.tests.size() >= min_tests) {
      double sum = 0.0;
      for (const TestPercent& test : row.tests) sum += test.percent_of_mean;
      row.percent_of_mean = sum / static_cast<double>(row.tests.size());
    }
    out.push_back(std::move(row));
  }
  return out;
}

}  // namespace ligule::results
