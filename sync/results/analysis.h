// Plot values into per-test results: each cutting of each year, the year's total, all years.
//
// Which analyses there are, which plots have a total and what each figure means is the contract of
// the result files (tables.h names them); the numbers come from sync/statistics.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"
#include "storage/trial/scale.h"
#include "sync/results/plot_value.h"

namespace ligule::results {

enum class Design {
  kRandomisedBlocks,
  kCompletelyRandomised,
  kLatinSquare,  // entry + row + column, by PlotValue::place; reps take no part
  // entry + incomplete block of a rep: the analysis within blocks (Yates 1936;
  // Cochran & Cox 1957, chapter 9; from memory). What the sums of blocks could tell besides is left
  // out, so that no variance has to be guessed from few blocks.
  kIncompleteBlocks,
};
// As a plan names it: "rcb", "crd", "latin", "alpha"; anything else, "row_column" too, is taken for
// "rcb".
[[nodiscard]] Design design_named(std::string_view code);
[[nodiscard]] std::string_view name_of(Design design);

// Which end of the means the marked group begins at.
enum class Best {
  kHighest,
  kLowest,  // injury, disease
  kNone,    // maturity: neither end is better, nothing is marked
};

// As the direction of a measure's scale says.
[[nodiscard]] Best best_of(Direction direction);

struct AnalysisOptions {
  Design design = Design::kRandomisedBlocks;
  Best best = Best::kHighest;
  bool totals = true;   // sums over cuttings and years: of amounts, never of ratings
  double alpha = 0.05;  // of the least significant difference, two-sided
};

enum class Span {
  kCutting,   // one cutting of one year
  kYear,      // the sum of a year's cuttings, where it has several
  kAllYears,  // the sum of all years, where the test has several
};

enum class Basis {
  kPlots,
  kPublishedMeans,  // no reps: means and percents only, no error terms
};

struct EntryMean {
  std::string entry;
  std::size_t plots = 0;  // with a value
  // Least squares, so that an entry whose best block is missing is not judged by the others. Empty
  // without a value, and where sets of entries share no block.
  std::optional<double> mean;
  std::optional<double> standard_error;
  std::optional<double> percent_of_mean;  // 100 is the mean of all entry means of this analysis
  std::optional<bool> in_top_group;       // not different from the best; empty without an LSD
  std::optional<std::size_t> rank;        // 1 is the best; ties share a rank
};

struct Analysis {
  std::string test;
  std::vector<std::string> sites;  // the labels that occur, in byte order
  Span span = Span::kCutting;
  std::optional<int> year;  // empty where unknown, and over all years
  std::string cutting;      // only where span is kCutting
  Basis basis = Basis::kPlots;
  Design design = Design::kRandomisedBlocks;  // that was asked for
  bool connected = true;  // false: sets of entries share no block, there are no common means
  // Of a Latin square the place, of incomplete blocks the block of a plot with a value is not
  // known; means and error terms are then empty, as nothing else is put in the design's place.
  bool places_missing = false;

  std::size_t entries = 0;           // with a value
  std::optional<std::size_t> reps;   // with a value, of a Latin square rows; empty for published
                                     // means
  std::size_t values = 0;            // plots with a value
  std::optional<double> mean;        // of those plots
  std::optional<double> mse;         // error mean square
  std::optional<double> df_error;    // empty for published means and without any value
  std::optional<double> f;           // of entries, adjusted for blocks
  std::optional<double> p;           // its upper tail
  std::optional<double> cv_percent;  // 100 sqrt(mse) / mean
  std::optional<double> lsd;         // average over all pairs where plots are missing

  std::vector<EntryMean> means;           // one per entry with a row, in byte order of the label
  std::optional<double> mean_of_entries;  // of all of them: what 100 percent is
};

// "2024", "all" or nothing; "1", "total": how an analysis is named in every file.
[[nodiscard]] std::string year_label(const Analysis& analysis);
[[nodiscard]] std::string cutting_label(const Analysis& analysis);
[[nodiscard]] std::string year_label(Span span, std::optional<int> year);
[[nodiscard]] std::string cutting_label(Span span, const std::string& cutting);

// Every analysis of every test, ordered by test (bytes), year, cutting (as numbers where all of a
// year's cuttings are), the year's total, all years. The order of `values` does not matter.
//
// A total is the sum over the cuttings an entry was scheduled for: those in which it has a row in
// any rep. A plot that lacks one of these has no total and counts as missing.
[[nodiscard]] std::vector<Analysis> analyse(std::span<const PlotValue> values,
                                            const AnalysisOptions& options);

// One for each test that lacks the places its design needs.
[[nodiscard]] std::vector<Error> design_notices(std::span<const Analysis> analyses);

}  // namespace ligule::results
