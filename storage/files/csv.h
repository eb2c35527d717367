// CSV as RFC 4180 has it, read strictly and with line numbers, for tables that people and other
// programs write. (The lines of records.csv are stricter still: storage/trial/record_line.h.)
#pragma once

#include <cstddef>
#include <deque>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"

namespace ligule::files {

struct CsvRow {
  std::size_t line = 0;  // physical line the row starts on, from 1
  std::vector<std::string> cells;

  bool operator==(const CsvRow&) const = default;
};

// Every row of a text, as many cells as it has. Lines end in CRLF, LF or CR; a byte order mark in
// front is dropped; empty lines are skipped; blanks are data. file is the name put into errors
// ("plots.csv"). kInvalid with file and line: not UTF-8, a control character, a stray or open
// quote.
[[nodiscard]] Result<std::vector<CsvRow>> parse_csv(std::string_view text, std::string_view file);

// The same as views, without a copy of what stands in no quotes: for files of many rows.
class CsvLines {
 public:
  struct Row {
    std::size_t line = 0;  // as CsvRow
    std::span<const std::string_view> cells;
  };

  // `text` must outlive what is made of it.
  [[nodiscard]] static Result<CsvLines> parse(std::string_view text, std::string_view file);

  CsvLines(CsvLines&&) noexcept = default;
  CsvLines& operator=(CsvLines&&) noexcept = default;
  // Cells are views into what this owns.
  CsvLines(const CsvLines&) = delete;
  CsvLines& operator=(const CsvLines&) = delete;
  ~CsvLines() = default;

  [[nodiscard]] std::size_t size() const { return places_.size(); }
  [[nodiscard]] Row row(std::size_t i) const {
    const Place& place = places_[i];
    return {place.line, std::span(cells_).subspan(place.first, place.count)};
  }
  // As the function of this name.
  void drop_blank_margins();

 private:
  // A row among the cells: one list of all, so that a row is no piece of memory of its own.
  struct Place {
    std::size_t line, first, count;
  };
  struct Reading;

  CsvLines() = default;
  [[nodiscard]] std::size_t filled_width(const Place& place) const;

  std::vector<Place> places_;
  std::vector<std::string_view> cells_;
  std::deque<std::string> unquoted_;
};

// `text` without blanks (space, tab) at either end; a view into it.
[[nodiscard]] std::string_view without_blanks(std::string_view text);

// Drops what a spreadsheet leaves around a table once something stood there: rows of blank cells,
// and blank cells right of the first row's last name. A column without a name that holds anything
// stays, for the caller to refuse.
void drop_blank_margins(std::vector<CsvRow>& rows);

// A table with a header row, its blank margins dropped.
class Table {
 public:
  // Faults: none but an empty header, an empty or repeated column name, a row with more or fewer
  // cells than the header; all are listed.
  [[nodiscard]] static Checked<Table> parse(std::string_view text, std::string_view file);

  [[nodiscard]] const std::string& file() const { return file_; }
  // Column names in the file's order, blanks around them dropped.
  [[nodiscard]] const std::vector<std::string>& columns() const { return columns_; }
  [[nodiscard]] std::size_t header_line() const { return header_line_; }
  [[nodiscard]] const std::vector<CsvRow>& rows() const { return rows_; }
  // Index of a column, empty when the table has none of that name.
  [[nodiscard]] std::optional<std::size_t> find_column(std::string_view name) const;
  // "plots.csv line 9, column path", the form every error about a cell uses.
  [[nodiscard]] std::string place(const CsvRow& row, std::string_view column) const;
  // "plots.csv line 9".
  [[nodiscard]] std::string place(const CsvRow& row) const;

 private:
  std::string file_;
  std::vector<std::string> columns_;
  std::size_t header_line_ = 0;
  std::vector<CsvRow> rows_;
};

// A whole table as text: CRLF after every line, cells quoted only where needed, no byte order mark.
// Cells must be free of control characters (record_line.h, is_cell_text); rows as long as columns.
[[nodiscard]] std::string csv_text(std::span<const std::string> columns,
                                   std::span<const std::vector<std::string>> rows);

}  // namespace ligule::files
