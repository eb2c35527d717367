// The tests that a long-term summary rests on.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "storage/trial/error.h"
#include "sync/results/analysis.h"

namespace ligule::results {

// When a test was sown, as its plan says.
struct SownYear {
  std::string test;
  int year = 0;
};

struct TestBehind {
  std::string test;
  std::string site;                    // labels joined by ", "; may be empty
  std::optional<int> sown_year;        // empty: not known
  std::vector<int> years;              // those of the figure that counts, in order; the known ones
  std::size_t count_of_years = 1;      // with the unknown
  const Analysis* analysis = nullptr;  // the last-listed one (the most total): its figure counts
  std::optional<double> mean;          // of its entry means, a year
};

// Of each test whose last-listed analysis has a percent, in the order of `analyses`, which is that
// of analyse() and must outlive the answer.
[[nodiscard]] std::vector<TestBehind> tests_behind(std::span<const Analysis> analyses,
                                                   std::span<const SownYear> sown);

// A test that no long-term average holds, and why in words: "no plot has ...".
struct TestLeftOut {
  std::string test;
  std::string why;
};
// Of each test whose last-listed analysis has no percent, in the order of `analyses`.
[[nodiscard]] std::vector<TestLeftOut> tests_left_out(std::span<const Analysis> analyses);
// The same, for whoever makes tables of them; `analyses` of all entries, withheld ones too.
[[nodiscard]] std::vector<Error> left_out_notices(std::span<const Analysis> analyses);

// "2024", "2024-2026", "2022, 2024"; empty where no year is known. `dash` stands between ends.
[[nodiscard]] std::string years_label(const std::vector<int>& years, const std::string& dash);

}  // namespace ligule::results
