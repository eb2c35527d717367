// Planning the next test: the blocks it needs for a wished least significant difference (LSD),
// from the error mean squares of the tests that were.
//
// The next test is taken to be in complete blocks, of as many entries as the one it is planned
// from. Where that one stood in no blocks, what blocks would have taken out is in its error, and
// the answer is on the safe side. Formulas: statistics/blocks_needed.h.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sync/results/analysis.h"

namespace ligule::results {

struct WishedLsd {
  double size = 0.0;             // above 0, finite
  bool percent_of_mean = false;  // false: in the unit of the values
};

// "0.5" or "10%" (a blank before the sign does not count). Empty for anything else.
[[nodiscard]] std::optional<WishedLsd> wished_lsd_of(std::string_view text);

// Expected LSDs are listed for so many blocks.
inline constexpr std::size_t kFewestListed = 2;
inline constexpr std::size_t kMostListed = 12;
// How often a true difference as large as the wished LSD is to be found, for `blocks_to_find`.
// Common practice, no source: 80 of 100.
inline constexpr double kChanceToFind = 0.8;

// What one analysis, or all pooled, tells of the next test.
struct NextTestRow {
  std::string test;           // empty: pooled over tests
  std::string year, cutting;  // as the result files name them
  bool counts = true;         // the test's last-listed (most total) analysis
  // A sum over years is planned by what a year gives: mean and mse are of a year.
  std::size_t years = 1;
  std::size_t entries = 0;
  double mse = 0.0;  // above 0
  double df_error = 0.0;
  double mean = 0.0;
  double wished = 0.0;  // LSD, in the unit of the values
  std::optional<std::size_t>
      blocks;                    // the fewest that reach it; empty: no number that is sown does
  std::optional<double> lsd;     // expected of those
  std::optional<double> chance;  // of those, to find a true difference of `wished`; 0 to 1
  std::optional<std::size_t>
      blocks_to_find;  // the fewest that find it in 80 of 100 tests; as blocks
  std::vector<std::optional<double>> listed;  // expected LSD of kFewestListed..kMostListed blocks
};

struct NextTest {
  WishedLsd wished;
  double alpha = 0.05;
  std::vector<NextTestRow> rows;  // in the order of the analyses
  std::optional<NextTestRow>
      pooled;                        // over the rows that count, from two on; of rounded-up entries
  double mse_ratio = 1.0;            // largest over smallest of those
  std::vector<std::string> without;  // tests whose last-listed analysis tells nothing
};

// From each single cutting and from each test's last-listed analysis. Without an error mean square
// above 0, and, for a percent, without a mean above 0, an analysis tells nothing. Whoever wants
// one species planned gives its analyses only. `analyses` in the order of analyse().
[[nodiscard]] NextTest next_test(std::span<const Analysis> analyses, const WishedLsd& wished,
                                 double alpha);

// test,year,cutting,years,mse,df_error,entries,mean,wished_lsd,blocks,lsd,chance_percent,
// blocks_for_80,lsd_2,...,lsd_12; the pooled row last, without a test and year.
[[nodiscard]] std::string next_test_csv(const NextTest& next);

// For people: a line for each test, one for all pooled, and what an LSD does not promise. `unit`
// may be empty.
[[nodiscard]] std::vector<std::string> next_test_lines(const NextTest& next,
                                                       const std::string& unit);

}  // namespace ligule::results
