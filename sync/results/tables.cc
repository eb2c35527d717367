#include "sync/results/tables.h"

#include <algorithm>
#include <vector>

#include "sync/results/labels.h"

namespace ligule::results {
namespace {

std::string line(std::vector<std::string> fields) {
  return csv_line(fields);
}

}  // namespace

std::string tests_csv(std::span<const Analysis> analyses, double alpha) {
  // "0.05" without what stands before the figures.
  std::string text =
      "test,year,cutting,entries,reps,n,mean,mse,df_error,f_entry,p_entry,cv_percent,lsd_" +
      rounded(alpha, 2).substr(2) + "\n";
  for (const Analysis& a : analyses) {
    text += line({a.test, year_label(a), cutting_label(a), std::to_string(a.entries),
                  a.reps ? std::to_string(*a.reps) : std::string(), std::to_string(a.values),
                  exact_or_empty(a.mean), exact_or_empty(a.mse), exact_or_empty(a.df_error),
                  exact_or_empty(a.f), exact_or_empty(a.p), exact_or_empty(a.cv_percent),
                  exact_or_empty(a.lsd)});
  }
  return text;
}

std::string means_csv(std::span<const Analysis> analyses) {
  std::string text = "test,year,cutting,entry,n,mean,se,percent_of_mean,in_top_group\n";
  for (const Analysis& a : analyses) {
    for (const EntryMean& entry : a.means) {
      std::string mark;
      if (entry.in_top_group) mark.push_back(*entry.in_top_group ? '1' : '0');
      text +=
          line({a.test, year_label(a), cutting_label(a), entry.entry, std::to_string(entry.plots),
                exact_or_empty(entry.mean), exact_or_empty(entry.standard_error),
                exact_or_empty(entry.percent_of_mean), mark});
    }
  }
  return text;
}

std::string long_term_csv(std::span<const LongTermRow> rows) {
  std::string text =
      "entry,tests,percent_of_mean,corrected_percent,corrected_percent_se,corrected_mean,"
      "corrected_se,shrunken_mean,shrunken_low,shrunken_high,slope,slope_se,stability_variance,"
      "company\n";
  for (const LongTermRow& row : rows) {
    const std::optional<Interval>& shrunken = row.shrunken_interval;
    text +=
        line({row.entry, std::to_string(row.tests.size()), exact_or_empty(row.percent_of_mean),
              exact_or_empty(row.corrected_percent), exact_or_empty(row.corrected_percent_error),
              exact_or_empty(row.corrected_mean), exact_or_empty(row.corrected_error),
              exact_or_empty(row.shrunken_mean), shrunken ? exact(shrunken->low) : std::string(),
              shrunken ? exact(shrunken->high) : std::string(), exact_or_empty(row.slope),
              exact_or_empty(row.slope_error), exact_or_empty(row.stability_variance),
              row.company > 0 ? std::to_string(row.company) : std::string()});
  }
  return text;
}

std::string long_term_tests_csv(std::span<const LongTermRow> rows,
                                std::span<const TestBehind> tests) {
  std::string text = "entry,test,site,sown_year,years,years_of_data,percent_of_mean\n";
  for (const LongTermRow& row : rows) {
    for (const TestPercent& percent : row.tests) {
      const auto test = std::ranges::find(tests, percent.test, &TestBehind::test);
      if (test == tests.end()) continue;
      const std::optional<int> sown = test->sown_year;
      text += line({row.entry, percent.test, test->site,
                    sown ? std::to_string(*sown) : std::string(), years_label(test->years, "-"),
                    std::to_string(test->count_of_years), exact(percent.percent_of_mean)});
    }
  }
  return text;
}

}  // namespace ligule::results
