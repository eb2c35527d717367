// A site sheet: what is decided of a trial before its plots are drawn, one line a decision.
//
// A table of two columns, what and value (others are passed over, for notes): the columns of
// trial.csv by their names, sizes with their unit behind them ("20 ft"), and what a lay-out needs
// besides.
#pragma once

#include <map>
#include <span>
#include <string>
#include <string_view>

#include "storage/files/faults.h"
#include "storage/files/table_schema.h"
#include "storage/trial/plan.h"

namespace ligule::files {

struct SheetLine {
  std::string value;
  std::string place;  // "site.csv line 4"
};

struct SiteSheet {
  Plan plan;                               // of the trial; no entries, plots and occasions yet
  std::map<std::string, SheetLine> lines;  // those that are no column of the trial
};

// trial: the schema of trial.csv; besides its columns (but parent and reason: what is laid out
// revises nothing) `others` may stand there. Names may be written with capitals and blanks.
// Without a line design is rcb. yes and no are taken for true and false. Faults: unknown, doubled
// and missing lines, values that the schema refuses, a size without a unit.
[[nodiscard]] Checked<SiteSheet> read_site_sheet(std::string_view text, const std::string& file,
                                                 const TableSchema& trial,
                                                 std::span<const std::string_view> others);

}  // namespace ligule::files
