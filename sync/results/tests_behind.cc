#include "sync/results/tests_behind.h"

#include <algorithm>
#include <set>
#include <utility>

namespace ligule::results {
namespace {

bool has_percent(const EntryMean& entry) {
  return entry.percent_of_mean.has_value();
}

std::string site_label(const std::vector<std::string>& labels) {
  std::string text;
  for (const std::string& label : labels) {
    if (label.empty()) continue;
    if (!text.empty()) text += ", ";
    text += label;
  }
  return text;
}

// A sum over all years rests on every year with a value, any other analysis on its own.
std::set<std::optional<int>> years_of(std::span<const Analysis> of_test) {
  std::set<std::optional<int>> years;
  const Analysis& last = of_test.back();
  if (last.span != Span::kAllYears) return {last.year};
  for (const Analysis& analysis : of_test) {
    if (analysis.span != Span::kAllYears && analysis.values > 0) years.insert(analysis.year);
  }
  return years;
}

// Of all entries, withheld ones too.
std::optional<double> mean_of_a_year(const Analysis& analysis, std::size_t years) {
  if (!analysis.mean_of_entries) return std::nullopt;
  return *analysis.mean_of_entries / static_cast<double>(years);
}

// "2024 total", "cutting 2 of 2024", "the sum of all years"
std::string figure_told(const Analysis& last) {
  if (last.span == Span::kAllYears) return "the sum of all years";
  const std::string year = year_label(last);
  if (last.span == Span::kYear) return year.empty() ? "the total" : year + " total";
  std::string told = last.cutting.empty() ? "its figure" : "cutting " + last.cutting;
  if (!year.empty()) told += " of " + year;
  return told;
}

std::string why_left_out(const Analysis& last) {
  if (last.values == 0) return "no plot has a complete value in " + figure_told(last);
  if (last.places_missing) return "row and column of a plot are not known";
  if (!last.connected) return "its entries share no block, so there are no common means";
  if (last.means.empty()) return "none of its entries is shown";
  return "the mean of its entries is not above zero in " + figure_told(last) +
         ", and nothing is a percent of that";
}

}  // namespace

std::vector<TestLeftOut> tests_left_out(std::span<const Analysis> analyses) {
  std::vector<TestLeftOut> tests;
  for (std::size_t i = 0; i < analyses.size(); ++i) {
    const bool last = i + 1 == analyses.size() || analyses[i + 1].test != analyses[i].test;
    if (!last || std::ranges::any_of(analyses[i].means, has_percent)) continue;
    tests.push_back({analyses[i].test, why_left_out(analyses[i])});
  }
  return tests;
}

std::vector<Error> left_out_notices(std::span<const Analysis> analyses) {
  std::vector<Error> notices;
  for (TestLeftOut& test : tests_left_out(analyses)) {
    notices.push_back({ErrorKind::kNotFound, "counts in no long-term average: " + test.why,
                       std::move(test.test),
                       "mend its values if they can be had; the report lists it"});
  }
  return notices;
}

std::vector<TestBehind> tests_behind(std::span<const Analysis> analyses,
                                     std::span<const SownYear> sown) {
  std::vector<TestBehind> tests;
  for (std::size_t first = 0; first < analyses.size();) {
    std::size_t last = first + 1;
    while (last < analyses.size() && analyses[last].test == analyses[first].test) ++last;
    const auto of_test = analyses.subspan(first, last - first);
    first = last;
    const Analysis& counts = of_test.back();
    if (std::ranges::none_of(counts.means, has_percent)) continue;
    TestBehind test;
    test.test = counts.test;
    test.site = site_label(counts.sites);
    const auto found = std::ranges::find(sown, counts.test, &SownYear::test);
    if (found != sown.end()) test.sown_year = found->year;
    const std::set<std::optional<int>> years = years_of(of_test);
    for (const std::optional<int>& year : years) {
      if (year) test.years.push_back(*year);
    }
    test.count_of_years = std::max<std::size_t>(years.size(), 1);
    test.analysis = &counts;
    test.mean = mean_of_a_year(counts, test.count_of_years);
    tests.push_back(std::move(test));
  }
  return tests;
}

std::string years_label(const std::vector<int>& years, const std::string& dash) {
  std::string text;
  for (std::size_t first = 0; first < years.size();) {
    std::size_t last = first;
    while (last + 1 < years.size() && years[last + 1] == years[last] + 1) ++last;
    if (!text.empty()) text += ", ";
    text += std::to_string(years[first]);
    if (last > first) text += dash + std::to_string(years[last]);
    first = last + 1;
  }
  return text;
}

}  // namespace ligule::results
