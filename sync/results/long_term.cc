#include "sync/results/long_term.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>
#include <set>
#include <string_view>

#include "sync/results/tests_behind.h"
#include "sync/statistics/distributions.h"
#include "sync/statistics/fit.h"
#include "sync/statistics/several_tests.h"
#include "sync/statistics/stability.h"

namespace ligule::results {
namespace {

// Of entries (rows) in tests.
struct Table {
  std::vector<statistics::Observation> cells;     // means of a year
  std::vector<statistics::Observation> percents;  // of the test's mean, as many
  std::size_t entries = 0, tests = 0;
};

double average_of(const statistics::Fit& fit) {
  double sum = 0.0;
  double count = 0.0;
  for (const statistics::TreatmentEstimate& entry : fit.treatments) {
    if (!entry.mean) continue;
    sum += *entry.mean;
    count += 1.0;
  }
  return count > 0.0 ? sum / count : 0.0;
}

// Squared standard errors of the differences between the entries of a company.
struct PairErrors {
  std::vector<double> of_entry;  // averages over all of the company, in its order
  double average = 0.0;          // of these
};

// Empty without an error mean square.
std::optional<PairErrors> pair_errors(const statistics::Fit& fit, const Company& company) {
  PairErrors errors;
  errors.of_entry.resize(company.size());
  const auto count = static_cast<double>(company.size());
  for (std::size_t a = 0; a < company.size(); ++a) {
    for (const std::size_t other : company) {
      if (other == company[a]) continue;
      const auto error = statistics::difference_error(fit, company[a], other);
      if (!error) return std::nullopt;
      errors.of_entry[a] += *error * *error / count;
    }
    errors.average += errors.of_entry[a] / count;
  }
  if (!fit.error_mean_square) return std::nullopt;
  return errors;
}

// Had all stood in all tests, their average were 100 in each: so it is 100 here, and the error is
// that of the distance from it. For any estimates x the variance of x_i - mean(x) is the average
// over k of var(x_i - x_k), less half the average over all pairs.
void set_corrected_percents(std::vector<LongTermRow>& rows, const Company& company,
                            const statistics::Fit& fit, std::size_t min_tests) {
  const double average = average_of(fit);
  const auto errors = pair_errors(fit, company);
  for (std::size_t i = 0; i < company.size(); ++i) {
    LongTermRow& row = rows[company[i]];
    const auto& mean = fit.treatments[company[i]].mean;
    if (row.tests.size() < min_tests || !mean) continue;
    row.corrected_percent = 100.0 + (*mean - average);
    if (!errors) continue;
    row.corrected_percent_error =
        std::sqrt(std::max(0.0, errors->of_entry[i] - 0.5 * errors->average));
  }
}

double average_of(const statistics::RandomModel& model) {
  double sum = 0.0;
  double count = 0.0;
  for (const auto& entry : model.entries) {
    if (!entry) continue;
    sum += entry->effect;
    count += 1.0;
  }
  return model.mean + (count > 0.0 ? sum / count : 0.0);
}

void set_shrunken(LongTermRow& row, const statistics::RandomModel& model,
                  const std::optional<statistics::PredictedEntry>& entry, double df) {
  if (!entry) return;
  row.shrunken_mean = model.mean + entry->effect;
  const auto t = statistics::t_two_sided_quantile(0.05, df);
  if (!t || !entry->comparison_error) return;
  const double reach = *t * *entry->comparison_error;
  row.shrunken_interval = Interval{*row.shrunken_mean - reach, *row.shrunken_mean + reach};
}

// Of entries that can be compared with each other; the others' cells are left out.
void set_over_tests(std::vector<LongTermRow>& rows, const Company& company, const Table& table,
                    std::size_t min_tests) {
  const auto of_company = [&](const std::vector<statistics::Observation>& all) {
    std::vector<statistics::Observation> own;
    std::ranges::copy_if(all, std::back_inserter(own), [&](const auto& cell) {
      return std::ranges::binary_search(company, cell.treatment);
    });
    return own;
  };
  const std::vector<statistics::Observation> cells = of_company(table.cells);
  set_corrected_percents(
      rows, company,
      statistics::fit_in_blocks(of_company(table.percents), table.entries, table.tests), min_tests);
  const statistics::Fit fit = statistics::fit_in_blocks(cells, table.entries, table.tests);
  const auto model = statistics::random_model(cells, table.entries, table.tests);
  const auto stability = statistics::stability(cells, table.entries, table.tests);
  for (const std::size_t i : company) {
    LongTermRow& row = rows[i];
    if (model) {
      set_shrunken(row, *model, model->entries[i], fit.df_error);
      if (const double mean = average_of(*model); mean > 0.0) row.company_mean = mean;
    }
    if (row.tests.size() < min_tests) continue;
    row.corrected_mean = fit.treatments[i].mean;
    row.corrected_error = fit.treatments[i].standard_error;
    row.slope = stability[i].slope;
    row.slope_error = stability[i].slope_error;
    row.stability_variance = stability[i].variance;
  }
}

void set_average(LongTermRow& row, std::size_t min_tests) {
  if (row.tests.empty() || row.tests.size() < min_tests) return;
  double sum = 0.0;
  for (const TestPercent& test : row.tests) sum += test.percent_of_mean;
  row.percent_of_mean = sum / static_cast<double>(row.tests.size());
}

}  // namespace

std::vector<LongTermRow> long_term(std::span<const Analysis> analyses, std::size_t min_tests) {
  std::map<std::string_view, std::size_t> places;
  for (const Analysis& analysis : analyses) {
    for (const EntryMean& entry : analysis.means) places[entry.entry];
  }
  std::vector<LongTermRow> rows(places.size());
  std::size_t next = 0;
  for (auto& [entry, place] : places) {
    rows[next].entry = entry;
    place = next++;
  }
  Table table;
  table.entries = rows.size();
  for (const TestBehind& test : tests_behind(analyses, {})) {
    for (const EntryMean& entry : test.analysis->means) {
      if (!entry.percent_of_mean || !entry.mean) continue;
      const std::size_t place = places[entry.entry];
      rows[place].tests.push_back({test.test, *entry.percent_of_mean});
      table.percents.push_back({place, table.tests, *entry.percent_of_mean});
      table.cells.push_back(
          {place, table.tests, *entry.mean / static_cast<double>(test.count_of_years)});
    }
    ++table.tests;
  }
  // They were added test by test; each fit below wants them so, and finds them so.
  table.cells = statistics::in_order(table.cells);
  table.percents = statistics::in_order(table.percents);
  for (LongTermRow& row : rows) set_average(row, min_tests);
  const std::vector<Company> all = companies(rows);
  for (std::size_t n = 0; n < all.size(); ++n) {
    for (const std::size_t place : all[n]) rows[place].company = n + 1;
    set_over_tests(rows, all[n], table, min_tests);
  }
  return rows;
}

std::vector<Company> companies(std::span<const LongTermRow> rows) {
  std::vector<Company> all;
  std::map<std::string_view, std::size_t> company_of_test;
  for (std::size_t i = 0; i < rows.size(); ++i) {
    if (rows[i].tests.empty()) continue;
    // All companies that its tests belong to so far become one.
    std::set<std::size_t> met;
    for (const TestPercent& test : rows[i].tests) {
      const auto found = company_of_test.find(test.test);
      if (found != company_of_test.end()) met.insert(found->second);
    }
    Company joined{i};
    for (const std::size_t each : met) {
      joined.insert(joined.end(), all[each].begin(), all[each].end());
      all[each].clear();
    }
    std::ranges::sort(joined);
    for (auto& [test, company] : company_of_test) {
      if (met.contains(company)) company = all.size();
    }
    for (const TestPercent& test : rows[i].tests) company_of_test[test.test] = all.size();
    all.push_back(std::move(joined));
  }
  std::erase_if(all, [](const Company& company) { return company.empty(); });
  std::ranges::sort(all);
  return all;
}

}  // namespace ligule::results
