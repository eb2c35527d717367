#include "sync/results/tables.h"

#include <map>
#include <string_view>
#include <vector>

#include "sync/results/labels.h"

namespace ligule::results {
namespace {

std::string line(std::vector<std::string> fields) {
  return csv_line(fields);
}

}  // namespace

std::string tests_header(double alpha) {
  return "test,year,cutting,entries,reps,n,mean,mse,df_error,f_entry,p_entry,cv_percent," +
         lsd_column(alpha);
}

void add_tests(std::span<const Analysis> analyses, CsvText& text) {
  for (const Analysis& a : analyses) {
    text.add(a.test).add(year_label(a)).add(cutting_label(a)).add_count(a.entries);
    if (a.reps) {
      text.add_count(*a.reps);
    } else {
      text.add("");
    }
    text.add_count(a.values).add(a.mean).add(a.mse).add(a.df_error).add(a.f).add(a.p);
    text.add(a.cv_percent).add(a.lsd).end_line();
  }
}

void add_means(std::span<const Analysis> analyses, CsvText& text) {
  for (const Analysis& a : analyses) {
    std::string beginning = csv_field(a.test);
    for (const std::string& label : {year_label(a), cutting_label(a)}) {
      beginning += ',';
      beginning += csv_field(label);
    }
    for (const EntryMean& entry : a.means) {
      text.add_ready(beginning).add(entry.entry).add_count(entry.plots);
      text.add(entry.mean).add(entry.standard_error).add(entry.percent_of_mean);
      text.add_ready(!entry.in_top_group ? "" : *entry.in_top_group ? "1" : "0").end_line();
    }
  }
}

std::string tests_csv(std::span<const Analysis> analyses, double alpha) {
  CsvText text(tests_header(alpha));
  add_tests(analyses, text);
  return std::move(text).take();
}

std::string means_csv(std::span<const Analysis> analyses) {
  CsvText text(kMeansHeader);
  add_means(analyses, text);
  return std::move(text).take();
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
  std::map<std::string_view, const TestBehind*> by_name;
  for (const TestBehind& test : tests) by_name.try_emplace(test.test, &test);
  CsvText text("entry,test,site,sown_year,years,years_of_data,percent_of_mean");
  for (const LongTermRow& row : rows) {
    for (const TestPercent& percent : row.tests) {
      const auto found = by_name.find(percent.test);
      if (found == by_name.end()) continue;
      const TestBehind& test = *found->second;
      text.add(row.entry).add(percent.test).add(test.site);
      text.add(test.sown_year ? std::to_string(*test.sown_year) : "");
      text.add(years_label(test.years, "-")).add_count(test.count_of_years);
      text.add(percent.percent_of_mean).end_line();
    }
  }
  return std::move(text).take();
}

}  // namespace ligule::results
