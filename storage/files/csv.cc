#include "storage/files/csv.h"

#include <csv.h>

#include <algorithm>
#include <memory>
#include <utility>

#include "storage/trial/record_line.h"
#include "storage/trial/utf8.h"

namespace ligule::files {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";

std::string line_place(std::string_view file, std::size_t line) {
  return std::string(file) + " line " + std::to_string(line);
}

// The first physical line of a text with its line end; CRLF, LF and CR each end a line.
std::string_view first_line(std::string_view text) {
  const std::size_t end = text.find_first_of("\r\n");
  if (end == std::string_view::npos) return text;
  const bool both = text.substr(end, 2) == "\r\n";
  return text.substr(0, end + (both ? 2 : 1));
}

bool is_line_end(char c) {
  return c == '\r' || c == '\n';
}

// What the library's callbacks write to while one physical line is fed.
struct Collector {
  std::vector<std::string> cells;
  std::vector<CsvRow> rows;
  std::size_t row_line = 0;
  bool row_ended = false;
};

void take_cell(void* bytes, std::size_t length, void* collector) {
  // The library hands an empty cell over as a null pointer.
  const std::string_view cell =
      bytes == nullptr ? std::string_view() : std::string_view(static_cast<char*>(bytes), length);
  static_cast<Collector*>(collector)->cells.emplace_back(cell);
}

void end_row(int /*terminator*/, void* collector) {
  auto& into = *static_cast<Collector*>(collector);
  into.rows.push_back({into.row_line, std::exchange(into.cells, {})});
  into.row_ended = true;
}

struct ParserRelease {
  void operator()(csv_parser* parser) const { csv_free(parser); }
};

int no_space(unsigned char /*byte*/) {
  return 0;
}

// Faults that a look at the bytes of a line shows, before the library sees it.
std::optional<Error> byte_fault(std::string_view line, const std::string& where) {
  if (!is_valid_utf8(line)) {
    return Error{ErrorKind::kInvalid, "the text is not UTF-8", where,
                 "save the table as CSV UTF-8, comma separated"};
  }
  const auto unwanted = [](char c) {
    const auto byte = static_cast<unsigned char>(c);
    return (byte < 0x20 && !is_line_end(c) && c != '\t') || byte == 0x7f;
  };
  if (std::ranges::any_of(line, unwanted)) {
    return Error{ErrorKind::kInvalid, "the text holds a control character", where,
                 "save the table as CSV UTF-8, comma separated"};
  }
  return std::nullopt;
}

// How many cells a row has up to its last that is not blank.
std::size_t filled_width(const CsvRow& row) {
  std::size_t width = row.cells.size();
  while (width > 0 && without_blanks(row.cells[width - 1]).empty()) --width;
  return width;
}

}  // namespace

std::string_view without_blanks(std::string_view text) {
  const std::size_t first = text.find_first_not_of(" \t");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

void drop_blank_margins(std::vector<CsvRow>& rows) {
  std::erase_if(rows, [](const CsvRow& row) { return filled_width(row) == 0; });
  if (rows.empty()) return;
  std::size_t widest = 0;
  for (const CsvRow& row : rows) widest = std::max(widest, filled_width(row));
  auto& names = rows.front().cells;
  names.resize(std::min(names.size(), widest));
  for (CsvRow& row : rows) {
    row.cells.resize(std::min(row.cells.size(), std::max(names.size(), filled_width(row))));
  }
}

Result<std::vector<CsvRow>> parse_csv(std::string_view text, std::string_view file) {
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  csv_parser raw{};
  if (csv_init(&raw, CSV_STRICT | CSV_STRICT_FINI) != 0)
    return fail(ErrorKind::kIo, "the CSV reader did not start", std::string(file), "try again");
  const std::unique_ptr<csv_parser, ParserRelease> parser(&raw);
  csv_set_space_func(parser.get(), no_space);

  Collector into;
  bool in_row = false;
  std::size_t number = 0;
  while (!text.empty()) {
    const std::string_view line = first_line(text);
    text.remove_prefix(line.size());
    ++number;
    if (auto fault = byte_fault(line, line_place(file, number)))
      return std::unexpected(*std::move(fault));
    if (!in_row) into.row_line = number;
    into.row_ended = false;
    const std::size_t used =
        csv_parse(parser.get(), line.data(), line.size(), take_cell, end_row, &into);
    if (used != line.size()) {
      return fail(ErrorKind::kInvalid, "a quote stands where none can stand",
                  line_place(file, number),
                  "put a cell that holds a quote in quotes and double the quote within");
    }
    in_row = !into.row_ended && (in_row || !is_line_end(line.front()));
  }
  if (csv_fini(parser.get(), take_cell, end_row, &into) != 0) {
    return fail(ErrorKind::kInvalid, "a cell's quotes are never closed",
                line_place(file, into.row_line), "close the quotes");
  }
  return std::move(into.rows);
}

Checked<Table> Table::parse(std::string_view text, std::string_view file) {
  Table table;
  table.file_ = file;
  auto rows = parse_csv(text, file);
  if (!rows) return std::unexpected(Faults{rows.error()});
  drop_blank_margins(*rows);
  if (rows->empty()) {
    return std::unexpected(Faults{{ErrorKind::kInvalid, "the table is empty", table.file_,
                                   "write the column names into its first line"}});
  }
  Faults faults;
  const CsvRow header = std::move(rows->front());
  rows->erase(rows->begin());
  table.header_line_ = header.line;
  for (const std::string& cell : header.cells) {
    const std::string name(without_blanks(cell));
    if (name.empty()) {
      faults.push_back({ErrorKind::kInvalid,
                        "column " + std::to_string(table.columns_.size() + 1) + " has no name",
                        line_place(file, header.line), "name it or take it out"});
    } else if (table.find_column(name)) {
      faults.push_back({ErrorKind::kInvalid, "column " + name + " stands twice",
                        line_place(file, header.line), "keep one of them"});
    }
    table.columns_.push_back(name);
  }
  for (const CsvRow& row : *rows) {
    if (row.cells.size() == table.columns_.size()) continue;
    faults.push_back({ErrorKind::kInvalid,
                      "the row has " + std::to_string(row.cells.size()) + " cells, the header " +
                          std::to_string(table.columns_.size()),
                      table.place(row), "give every row as many cells as there are columns"});
  }
  if (table.columns_.size() == 1 &&
      table.columns_.front().find_first_of(";\t") != std::string::npos) {
    faults.assign(1, {ErrorKind::kInvalid, "the columns are not separated by commas",
                      line_place(file, header.line), "save the table as CSV, comma separated"});
  }
  if (!faults.empty()) return std::unexpected(std::move(faults));
  table.rows_ = *std::move(rows);
  return table;
}

std::optional<std::size_t> Table::find_column(std::string_view name) const {
  const auto at = std::ranges::find(columns_, name);
  if (at == columns_.end()) return std::nullopt;
  return static_cast<std::size_t>(at - columns_.begin());
}

std::string Table::place(const CsvRow& row, std::string_view column) const {
  return place(row) + ", column " + std::string(column);
}

std::string Table::place(const CsvRow& row) const {
  return line_place(file_, row.line);
}

std::string csv_text(std::span<const std::string> columns,
                     std::span<const std::vector<std::string>> rows) {
  std::string text = join_line({columns.begin(), columns.end()}) + "\r\n";
  for (const std::vector<std::string>& row : rows) text += join_line(row) + "\r\n";
  return text;
}

}  // namespace ligule::files
