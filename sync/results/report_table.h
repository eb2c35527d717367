// A table of the report: entries down, analyses across, with Mean, LSD, CV and the rest at its
// foot.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "sync/results/analysis.h"
#include "sync/results/entry_standing.h"
#include "sync/results/labels.h"

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
  // Twice the number is twice as much. Else (scores, stages, dates) the mean hangs on where the
  // scale begins, and a CV, chance in percent of it, with it: none is printed.
  bool is_ratio = true;
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
// where anything is said of it. Views into the columns' analyses.
[[nodiscard]] std::vector<std::string_view> ordered_entries(const Columns& columns,
                                                            const TableStyle& style);

// What stands in one cell of a table, as it is printed.
struct PrintedCell {
  std::string row;     // entry; "Mean", "LSD 0.05" ... at the foot
  std::string column;  // heading and what stands below it, "Cutting 1 (20 May)"
  std::string text;    // "–" where a figure can't be had
  bool marked = false;
  std::string group = {};  // the heading that an entry's row stands under; may be empty

  bool operator==(const PrintedCell&) const = default;
};

// A table that is ready to be written. Percent of the mean and, where the test has checks, of the
// checks' mean are of the last column. `columns` are never empty, all of one test; their analyses
// and the style's standings must outlive it.
class EntryTable {
 public:
  EntryTable(Columns columns, std::string caption, const TableStyle& style);

  void add_html(std::string& html) const;
  // Row by row, as the table has them; cells that are always empty are left out.
  [[nodiscard]] std::vector<PrintedCell> cells() const;
  // The same as lines of press.csv: test,table,row,column,printed,marked,group.
  void add_press(std::string_view test, CsvText& csv) const;

 private:
  struct Row {
    std::string_view entry;
    const EntryStanding* standing = nullptr;  // null where nothing is said of it
    std::vector<const EntryMean*> means;      // of each column; null where it has no row there
  };
  struct FootRow {
    std::string name;
    std::vector<std::string> texts;  // of each column
  };

  [[nodiscard]] const Analysis& last() const { return *columns_.back().analysis; }
  [[nodiscard]] static std::vector<Row> rows_of(const Columns& columns, const TableStyle& style);
  friend std::vector<std::string_view> ordered_entries(const Columns& columns,
                                                       const TableStyle& style);
  void find_checks();
  [[nodiscard]] bool is_marked(std::size_t column, const Row& row) const;
  void add_mean(std::string& text, std::size_t column, const Row& row) const;
  void add_percent_of_mean(std::string& text, const Row& row) const;
  void add_percent_of_checks(std::string& text, const Row& row) const;
  [[nodiscard]] std::string lsd_text(std::size_t column) const;
  [[nodiscard]] std::vector<FootRow> foot_rows() const;
  // Whether entries stand under headings: where anything is known of the market.
  [[nodiscard]] bool grouped() const;
  // visit(row, column, text, marked, heading); columns to the last one's number and two more.
  template <class Visit>
  void each_cell(const Visit& visit) const;

  void add_head(std::string& html) const;
  void add_row(std::string& html, const Row& row) const;
  void add_group(std::string& html, Market market) const;
  void add_bodies(std::string& html) const;
  void add_foot(std::string& html) const;

  Columns columns_;
  std::string caption_;
  TableStyle style_;
  std::vector<Row> rows_;
  // Of each column.
  std::vector<int> decimals_;
  std::vector<bool> differ_;
  std::vector<std::string> names_;  // and of the percents behind them
  std::optional<double> checks_;
};

// Such a table as HTML.
[[nodiscard]] std::string entry_table(const Columns& columns, const std::string& caption,
                                      const TableStyle& style);

}  // namespace ligule::results
