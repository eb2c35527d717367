// Writing result tables: what a report is to say besides its numbers, and whether it is released.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "sync/desk/command.h"
#include "sync/results/analysis.h"
#include "sync/results/table_files.h"

namespace ligule::desk {

// What the options of `tables` ask of every report.
struct ReportWanted {
  double alpha = 0.05;
  bool withhold_lsd = false;
  results::EntryOrder order = results::EntryOrder::kRanked;
  std::size_t min_tests = 2;
  std::optional<std::string> site_notes = {};  // files
  std::optional<std::string> weather = {};
  std::optional<std::string> release = {};  // what changed: the tables are released
  std::string released_by = {};
  std::optional<CalendarDate> released_on = {};  // empty: today
};

// The options, and what a person gave for them. kInvalid.
[[nodiscard]] std::vector<Option> report_options();
[[nodiscard]] Result<ReportWanted> report_wanted(const Arguments& arguments);

// "tests.csv, means.csv and report.html": the files that a folder will have, before they are made.
[[nodiscard]] std::string files_told(const results::TableFolder& folder);

// Adds what every report is to say (site notes, weather, level, order), writes every folder below
// `folder` and releases.csv where the tables are released now. Says on the output stream whether
// they are released or a draft, and which site or test of the notes none of them has. Faults of the
// notes, the weather and releases.csv are reported before anything is written. Of a folder its
// analyses are left.
[[nodiscard]] Exit write_folders(std::vector<results::TableFolder>& folders,
                                 const std::string& folder, const ReportWanted& wanted,
                                 Console& console);

}  // namespace ligule::desk
