// A table of the report: entries down, analyses across, with Mean, LSD, CV and the rest at its
// foot.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "sync/results/analysis.h"
#include "sync/results/entry_standing.h"

namespace ligule::results {

// Stands behind a value that is not different from the best in its column.
inline constexpr const char* kTopMark = "●";

enum class EntryOrder {
  kRanked,  // by the mean of the last column, the best first
  kPlan,    // as the plan, or the file, has them
};

struct TableStyle {
  double alpha = 0.05;
  bool withhold_lsd = false;  // where entries are alike: "ns" alone; false: the figure behind it
  EntryOrder order = EntryOrder::kRanked;
  // Of all tests, in the order of standing_before(); an entry that is not named is of no kind.
  std::span<const EntryStanding> standings = {};
  bool percents = true;  // of the mean and of the checks; of ratings they tell nothing
};

struct Column {
  const Analysis* analysis = nullptr;  // never null
  std::string heading = {};
  std::string below = {};  // a second line: the day, a unit; may be empty
  // Means are days of the year, shown as dates of analysis->year.
  bool is_date = false;
  // A rating beside yields: its decimals are its own.
  bool is_rating = false;
};
using Columns = std::vector<Column>;

// Whether entries differ at all in this analysis: F is significant at alpha, or can't be had
// because the error is zero and some means differ. Without an answer the column carries no mark.
[[nodiscard]] bool entries_differ(const Analysis& analysis, double alpha);

// The mean of an entry; null where it has no row.
[[nodiscard]] const EntryMean* find_entry(const Analysis& analysis, std::string_view entry);

// The standing of one entry; null where it is not named.
[[nodiscard]] const EntryStanding* find_standing(std::span<const EntryStanding> standings,
                                                 std::string_view test, std::string_view entry);

// The entries of all columns in the order of the style. Those on sale stand above experimental ones
// where anything is said of it.
[[nodiscard]] std::vector<std::string> ordered_entries(const Columns& columns,
                                                       const TableStyle& style);

// Percent of the mean and, where the test has checks, of the checks' mean are of the last column.
// `columns` are never empty, all of one test.
[[nodiscard]] std::string entry_table(const Columns& columns, const std::string& caption,
                                      const TableStyle& style);

// What stands in one cell of such a table, as it is printed.
struct PrintedCell {
  std::string row;     // entry; "Mean", "LSD 0.05" ... at the foot
  std::string column;  // heading and what stands below it, "Cutting 1 (20 May)"
  std::string text;    // "–" where a figure can't be had
  bool marked = false;
  std::string group = {};  // the heading that an entry's row stands under; may be empty

  bool operator==(const PrintedCell&) const = default;
};
// Row by row, as entry_table() has them; cells that are always empty are left out.
[[nodiscard]] std::vector<PrintedCell> entry_cells(const Columns& columns, const TableStyle& style);

}  // namespace ligule::results
