// Stand persistence: how much of its first stand each entry still has, and after how many years.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "storage/trial/calendar.h"
#include "storage/trial/error.h"
#include "sync/results/analysis.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

// A pass with its means: one point of each line of a chart.
struct StandPass {
  int year = 0;  // that its values count for
  std::string pass;
  CalendarDate on{};
  Analysis stand;  // percent; without the plots that are left out of what is left
};

struct StandEnd {
  int year = 0;
  std::string pass;
  CalendarDate on{};
  std::optional<double> stand;  // least-squares mean
};

struct EntryStand {
  std::string entry;
  StandEnd first;
  StandEnd last;
  std::optional<double> years_in_ground;  // sowing to the last pass, one decimal
  std::size_t plots = 0;                  // that have a percent left
  // As results::analyse() has them; empty of an entry that was not rated at the passes of the
  // others.
  std::optional<double> percent_left;
  std::optional<double> standard_error;
  std::optional<bool> in_top_group;
  std::optional<std::size_t> rank;
};

// One test, by one measure.
struct StandPersistence {
  std::string test;
  std::string measure;  // "percent_stand", "frequency_grid"
  CalendarDate sown{};
  std::vector<StandPass> passes;    // by day
  std::vector<EntryStand> entries;  // in byte order
  Analysis left;                    // percent of the first stand: F, LSD, CV and the means again
  std::vector<std::string> notes;   // sentences for under the table
};

struct StandTables {
  std::vector<StandPersistence> tables;  // by measure
  std::vector<Error> notices;            // passes and entries that take no part
};

// Of each measure of the stand (percent_stand, frequency_grid: never mixed) that has two passes or
// more. First and last are the passes that most entries share; an entry rated from a later pass on,
// or up to an earlier one only, has its stands but no percent left, and is told. A pass that less
// than half of its plots have a value of (one that is just being rated) is neither: told too.
// What is left, and plots without it: stand_kept.h. Options: design and alpha count; high is best.
[[nodiscard]] StandTables stand_persistence_of(const TrialFacts& trial, const std::string& test,
                                               const AnalysisOptions& options);

// "2 plots began at 0 ..." stands in `notes`; this is what every table needs to be read.
inline constexpr const char* kStandLeftRead =
    "What is left is the last stand of each plot as a percent of its first, averaged over plots: "
    "an entry that came up thin can keep all of it. Read it beside the stands.";

// An entry's mean at each pass, in the order of the passes; empty where it has none.
struct StandCourse {
  std::string entry;
  std::vector<std::optional<double>> stands;
};
[[nodiscard]] std::vector<StandCourse> stand_courses(const StandPersistence& of);

// test,measure,entry,first_year,first_pass,first_date,first_stand,last_year,last_pass,last_date,
// last_stand,years_in_ground,n,percent_left,se,lsd_05,in_top_group
// A line an entry, n its plots with a percent left; numbers at full precision, what can't be had
// empty. Empty without tables.
[[nodiscard]] std::string stand_persistence_csv(std::span<const StandPersistence> tables,
                                                double alpha = 0.05);

}  // namespace ligule::results
