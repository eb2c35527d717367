// Whether entries differ alike in every cutting, or year: the split plot in time.
//
// Entries are the main units, a year's cuttings the sub units; over several years the sub units are
// the years' totals. The numbers come from statistics/split_in_time.h.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sync/results/analysis.h"
#include "sync/results/plot_value.h"

namespace ligule::results {

enum class Over {
  kCuttings,
  kYears,
};

// One line of the table; F and p are empty for errors and the total, and without any error.
struct OverSource {
  std::string source;  // "entry x cutting", "error c (rep x entry x cutting)"
  double df = 0.0;
  double sum_of_squares = 0.0;
  std::optional<double> mean_square;
  std::optional<double> f;
  std::optional<double> p;
  // With df that allow for values of one plot hanging together more at some cuttings than at
  // others (Greenhouse & Geisser 1959); of entry x cutting only.
  std::optional<double> p_greenhouse_geisser;
};

struct OverCuttings {
  std::string test;
  Over over = Over::kCuttings;
  std::optional<int> year;         // of the cuttings; empty where unknown, and over years
  std::vector<std::string> parts;  // labels of the cuttings or years, in order
  // rep, entry, error a, cutting, error b, entry x cutting, error c, total; empty without a table.
  std::vector<OverSource> sources;
  std::string why_not;  // why there is no table, as a person would say it; empty where there is

  // entry x cutting; none without a table.
  [[nodiscard]] const OverSource* interaction() const;
};

// One for each year with several cuttings, and one for each test with several years, in the order
// of analyse(), with the same options: without totals (of ratings) there is none. Only blocks in
// which every entry has one plot with a value at every cutting make a table; a plot's part of a
// year is its total, as analyse() has it.
[[nodiscard]] std::vector<OverCuttings> over_cuttings(std::span<const PlotValue> values,
                                                      const AnalysisOptions& options);

// Whether any of them has a table.
[[nodiscard]] bool has_table(std::span<const OverCuttings> tables);

// What that says of the entries, as one sentence for a report; `alpha` decides which.
[[nodiscard]] std::string interaction_words(const OverCuttings& over, double alpha);

// test,year,over,source,df,ss,ms,f,p,p_greenhouse_geisser: the tables there are; year is "all" over
// years.
[[nodiscard]] std::string over_cuttings_csv(std::span<const OverCuttings> tables);

}  // namespace ligule::results
