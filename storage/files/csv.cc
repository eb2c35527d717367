#include "storage/files/csv.h"

#include <csv.h>

#include <algorithm>
#include <array>
#include <memory>

#include "storage/trial/record_line.h"
#include "storage/trial/utf8.h"

namespace ligule::files {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
constexpr std::size_t kRowsToGuessFrom = 100;

std::string line_place(std::string_view file, std::size_t line) {
  return std::string(file) + " line " + std::to_string(line);
}

bool is_line_end(char c) {
  return c == '\r' || c == '\n';
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

enum Sign : unsigned char { kOrdinary = 0, kQuote = 1, kUnusual = 2, kLineEnd = 4 };

// What a byte is to the reader. Unusual is what a look at the whole line must decide on.
constexpr std::array<unsigned char, 256> kSigns = [] {
  std::array<unsigned char, 256> signs{};
  for (std::size_t byte = 0; byte < signs.size(); ++byte) {
    if ((byte < 0x20 && byte != '\t') || byte >= 0x7f) signs.at(byte) = kUnusual;
  }
  signs['"'] = kQuote;
  signs['\r'] = signs['\n'] = kLineEnd;
  return signs;
}();

// The first physical line of a text; CRLF, LF and CR each end a line.
struct Line {
  std::string_view text;   // with its line end
  std::string_view cells;  // without
  bool quoted = false;
  bool unusual = false;

  explicit Line(std::string_view from) {
    unsigned seen = 0;
    std::size_t end = 0;
    for (; end < from.size(); ++end) {
      const unsigned sign = kSigns[static_cast<unsigned char>(from[end])];
      if (sign == kLineEnd) break;
      seen |= sign;
    }
    cells = from.substr(0, end);
    const bool both = from.substr(end, 2) == "\r\n";
    text = from.substr(0, std::min(from.size(), end + (both ? 2 : 1)));
    quoted = (seen & kQuote) != 0;
    unusual = (seen & kUnusual) != 0;
  }
};

void add_cells(std::string_view line, std::vector<std::string_view>& cells) {
  for (std::size_t comma = line.find(','); comma != std::string_view::npos;
       comma = line.find(',')) {
    cells.push_back(line.substr(0, comma));
    line.remove_prefix(comma + 1);
  }
  cells.push_back(line);
}

// How many cells a row has up to its last that is not blank.
template <class Cells>
std::size_t width_of(const Cells& cells) {
  std::size_t width = cells.size();
  while (width > 0 && without_blanks(cells[width - 1]).empty()) --width;
  return width;
}

}  // namespace

std::string_view without_blanks(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

void drop_blank_margins(std::vector<CsvRow>& rows) {
  std::erase_if(rows, [](const CsvRow& row) { return width_of(row.cells) == 0; });
  if (rows.empty()) return;
  std::size_t widest = 0;
  for (const CsvRow& row : rows) widest = std::max(widest, width_of(row.cells));
  auto& names = rows.front().cells;
  names.resize(std::min(names.size(), widest));
  for (CsvRow& row : rows) {
    row.cells.resize(std::min(row.cells.size(), std::max(names.size(), width_of(row.cells))));
  }
}

// What the library's callbacks write to while one physical line is fed.
struct CsvLines::Reading {
  CsvLines& into;
  std::size_t line = 0;   // the row that is being read begins here
  std::size_t first = 0;  // and with this cell
  bool row_ended = false;

  void begin(std::size_t number) {
    line = number;
    first = into.cells_.size();
  }
  void end() {
    into.places_.push_back({line, first, into.cells_.size() - first});
    row_ended = true;
  }
  static void take_cell(void* bytes, std::size_t length, void* reading) {
    // The library hands an empty cell over as a null pointer.
    const std::string_view cell =
        bytes == nullptr ? std::string_view() : std::string_view(static_cast<char*>(bytes), length);
    CsvLines& lines = static_cast<Reading*>(reading)->into;
    lines.cells_.emplace_back(lines.unquoted_.emplace_back(cell));
  }
  static void end_row(int /*terminator*/, void* reading) { static_cast<Reading*>(reading)->end(); }
};

Result<CsvLines> CsvLines::parse(std::string_view text, std::string_view file) {
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  csv_parser raw{};
  if (csv_init(&raw, CSV_STRICT | CSV_STRICT_FINI) != 0)
    return fail(ErrorKind::kIo, "the CSV reader did not start", std::string(file), "try again");
  const std::unique_ptr<csv_parser, ParserRelease> parser(&raw);
  csv_set_space_func(parser.get(), no_space);

  CsvLines lines;
  Reading reading{.into = lines};
  const std::size_t all = text.size();
  bool in_row = false;
  std::size_t number = 0;
  while (!text.empty()) {
    const Line line(text);
    text.remove_prefix(line.text.size());
    ++number;
    if (line.unusual) {
      if (auto fault = byte_fault(line.text, line_place(file, number)))
        return std::unexpected(*std::move(fault));
    }
    if (!in_row) reading.begin(number);
    // Without a quote a line is a row as it stands; one with quotes is for the library.
    if (!in_row && !line.quoted) {
      if (line.cells.empty()) continue;
      add_cells(line.cells, lines.cells_);
      reading.end();
      // Growing by doubling would touch twice the memory: as many more as these let one expect.
      if (lines.size() == kRowsToGuessFrom) {
        const std::size_t times = all / (all - text.size()) + 1;
        lines.places_.reserve(lines.places_.size() * times);
        lines.cells_.reserve(lines.cells_.size() * times);
      }
      continue;
    }
    reading.row_ended = false;
    const std::size_t used = csv_parse(parser.get(), line.text.data(), line.text.size(),
                                       Reading::take_cell, Reading::end_row, &reading);
    if (used != line.text.size()) {
      return fail(ErrorKind::kInvalid, "a quote stands where none can stand",
                  line_place(file, number),
                  "put a cell that holds a quote in quotes and double the quote within");
    }
    in_row = !reading.row_ended;
  }
  if (csv_fini(parser.get(), Reading::take_cell, Reading::end_row, &reading) != 0) {
    return fail(ErrorKind::kInvalid, "a cell's quotes are never closed",
                line_place(file, reading.line), "close the quotes");
  }
  return lines;
}

std::size_t CsvLines::filled_width(const Place& place) const {
  return width_of(std::span(cells_).subspan(place.first, place.count));
}

void CsvLines::drop_blank_margins() {
  std::erase_if(places_, [this](const Place& place) { return filled_width(place) == 0; });
  if (places_.empty()) return;
  std::size_t widest = 0;
  for (const Place& place : places_) widest = std::max(widest, filled_width(place));
  std::size_t& names = places_.front().count;
  names = std::min(names, widest);
  for (Place& place : places_) {
    place.count = std::min(place.count, std::max(names, filled_width(place)));
  }
}

Result<std::vector<CsvRow>> parse_csv(std::string_view text, std::string_view file) {
  const Result<CsvLines> lines = CsvLines::parse(text, file);
  if (!lines) return std::unexpected(lines.error());
  std::vector<CsvRow> rows;
  rows.reserve(lines->size());
  for (std::size_t i = 0; i < lines->size(); ++i) {
    const CsvLines::Row row = lines->row(i);
    rows.push_back({row.line, {row.cells.begin(), row.cells.end()}});
  }
  return rows;
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
