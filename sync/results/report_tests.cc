#include "sync/results/report_tests.h"

#include <algorithm>
#include <map>
#include <set>

namespace ligule::results {

std::vector<std::string> ReportTest::sites() const {
  std::vector<std::string> sites;
  if (!analyses.empty()) {
    sites = analyses.front().sites;
  } else if (facts != nullptr) {
    sites.push_back(facts->site);
  }
  std::erase(sites, std::string());
  return sites;
}

std::string ReportTest::places() const {
  std::vector<std::string> all = sites();
  if (facts != nullptr && !facts->field.empty()) all.push_back(facts->field);
  std::string line;
  for (const std::string& place : all) line += (line.empty() ? "" : ", ") + place;
  return line;
}

std::vector<int> ReportTest::years() const {
  std::set<int> years;
  for (const Analysis& analysis : analyses) {
    if (analysis.year) years.insert(*analysis.year);
  }
  for (const RatingColumn* const rating : ratings) {
    if (rating->analysis.year) years.insert(*rating->analysis.year);
  }
  return {years.begin(), years.end()};
}

std::size_t ReportTest::entries() const {
  std::set<std::string_view> entries;
  for (const Analysis& analysis : analyses) {
    for (const EntryMean& mean : analysis.means) entries.insert(mean.entry);
  }
  for (const RatingColumn* const rating : ratings) {
    for (const EntryMean& mean : rating->analysis.means) entries.insert(mean.entry);
  }
  return entries.size();
}

std::vector<ReportTest> report_tests(std::span<const Analysis> analyses, const ReportText& text) {
  std::map<std::string, ReportTest> by_name;
  for (std::size_t first = 0; first < analyses.size();) {
    std::size_t last = first + 1;
    while (last < analyses.size() && analyses[last].test == analyses[first].test) ++last;
    by_name[analyses[first].test].analyses = analyses.subspan(first, last - first);
    first = last;
  }
  for (const RatingColumn& rating : text.ratings) {
    by_name[rating.analysis.test].ratings.push_back(&rating);
  }
  for (const TestFacts& facts : text.tests) by_name[facts.test].facts = &facts;
  for (const EventLine& event : text.events) by_name[event.test];
  std::vector<ReportTest> tests;
  for (auto& [name, test] : by_name) {
    test.test = name;
    test.anchor = "test-" + std::to_string(tests.size() + 1);
    std::ranges::stable_sort(test.ratings, [](const RatingColumn* a, const RatingColumn* b) {
      return std::tie(a->analysis.year, a->order) < std::tie(b->analysis.year, b->order);
    });
    tests.push_back(std::move(test));
  }
  return tests;
}

TableStyle table_style(const ReportText& text) {
  return {.alpha = text.alpha,
          .withhold_lsd = text.withhold_lsd,
          .order = text.order,
          .standings = text.standings,
          .percents = text.percents && !text.days};
}

}  // namespace ligule::results
