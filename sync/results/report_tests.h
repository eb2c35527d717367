// What a report shows of each test, gathered from the parts it was handed.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "sync/results/report.h"

namespace ligule::results {

struct ReportTest {
  std::string test;
  std::string anchor;                        // id of its section
  std::span<const Analysis> analyses;        // in order; empty: no table of the measure yet
  std::vector<const RatingColumn*> ratings;  // by year, then day
  const TestFacts* facts = nullptr;          // null: nothing is known of it

  // Labels of its sites, as results have them.
  [[nodiscard]] std::vector<std::string> sites() const;
  // The same and the field, joined; may be empty.
  [[nodiscard]] std::string places() const;
  // Those that a value is of, in order.
  [[nodiscard]] std::vector<int> years() const;
  // Entries with a row in any analysis or rating.
  [[nodiscard]] std::size_t entries() const;
};

// Every test that has an analysis, a rating, an event or facts, in byte order. `analyses` and
// `text` must outlive the answer.
[[nodiscard]] std::vector<ReportTest> report_tests(std::span<const Analysis> analyses,
                                                   const ReportText& text);

// The table style that a report's text asks for.
[[nodiscard]] TableStyle table_style(const ReportText& text);

}  // namespace ligule::results
