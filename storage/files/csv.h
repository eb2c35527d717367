// CSV as RFC 4180 has it, read strictly and with line numbers, for tables that people and other
// programs write. (The lines of records.csv are stricter still: storage/trial/record_line.h.)
#pragma once

#include <cstddef>
#include <memory>
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
// quote, more than 10,000 cells in a row.
[[nodiscard]] Result<std::vector<CsvRow>> parse_csv(std::string_view text, std::string_view file);

// `text` without a byte order mark in front; a view into it.
[[nodiscard]] std::string_view without_byte_order_mark(std::string_view text);

// The same rows one after the other as views, without a copy of what stands in no quotes: for files
// of many rows. A byte order mark is the caller's to drop.
class CsvReader {
 public:
  struct Row {
    std::size_t line = 0;  // as CsvRow
    std::span<const std::string_view> cells;
  };

  // `text` must outlive this.
  CsvReader(std::string_view text, std::string_view file);
  CsvReader(const CsvReader&) = delete;
  CsvReader& operator=(const CsvReader&) = delete;
  CsvReader(CsvReader&&) = delete;
  CsvReader& operator=(CsvReader&&) = delete;
  ~CsvReader();

  // The next row, whose cells stand until the next call; none at the end. Errors: as parse_csv().
  [[nodiscard]] Result<std::optional<Row>> next();
  // What stands behind the rows that were read, and how many physical lines these took.
  [[nodiscard]] std::string_view rest() const { return text_; }
  [[nodiscard]] std::size_t lines() const { return lines_; }

 private:
  struct Unquoting;  // what only rows with quotes need

  [[nodiscard]] Result<std::optional<Row>> quoted_row(std::string_view first_line);

  std::string_view text_;
  std::string file_;
  std::size_t lines_ = 0;
  std::vector<std::string_view> cells_;
  std::unique_ptr<Unquoting> unquoting_;
};

// `text` without blanks (space, tab) at either end; a view into it.
[[nodiscard]] std::string_view without_blanks(std::string_view text);

// How many cells a row has up to its last that is not blank.
template <class Cells>
[[nodiscard]] std::size_t filled_width(const Cells& cells) {
  std::size_t width = cells.size();
  while (width > 0 && without_blanks(cells[width - 1]).empty()) --width;
  return width;
}

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
