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

std::string line_place(std::string_view file, std::size_t line) {
  return std::string(file) + " line " + std::to_string(line);
}

bool is_line_end(char c) {
  return c == '\r' || c == '\n';
}

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

enum Sign : unsigned char { kOrdinary = 0, kQuote = 1, kUnusual = 2, kLineEnd = 4, kComma = 8 };

// What a byte is to the reader. Unusual is what a look at the whole line must decide on.
constexpr std::array<unsigned char, 256> kSigns = [] {
  std::array<unsigned char, 256> signs{};
  for (std::size_t byte = 0; byte < signs.size(); ++byte) {
    if ((byte < 0x20 && byte != '\t') || byte >= 0x7f) signs.at(byte) = kUnusual;
  }
  signs['"'] = kQuote;
  signs[','] = kComma;
  signs['\r'] = signs['\n'] = kLineEnd;
  return signs;
}();

// No table has so many; a megabyte of commas would take sixteen times as much memory.
constexpr std::size_t kMostCells = 10'000;

// The first physical line of a text; CRLF, LF and CR each end a line.
struct Line {
  std::string_view text;  // with its line end
  bool empty = false;     // but for that
  bool quoted = false;
  bool unusual = false;
  bool wide = false;  // more cells than a table has: those at the end are passed over

  // `cells` are what stands between the commas: those of the row where nothing is quoted.
  Line(std::string_view from, std::vector<std::string_view>& cells) {
    cells.clear();
    unsigned seen = 0;
    std::size_t begin = 0;  // of a cell
    std::size_t end = 0;
    for (; end < from.size(); ++end) {
      const unsigned sign = kSigns[static_cast<unsigned char>(from[end])];
      if (sign == kOrdinary) continue;
      if (sign == kLineEnd) break;
      seen |= sign;
      if (sign != kComma) continue;
      wide = cells.size() + 1 >= kMostCells;
      if (!wide) cells.push_back(from.substr(begin, end - begin));
      begin = end + 1;
    }
    cells.push_back(from.substr(begin, end - begin));
    const bool both = from.substr(end, 2) == "\r\n";
    text = from.substr(0, end + (both ? 2 : 1));
    empty = end == 0;
    quoted = (seen & kQuote) != 0;
    unusual = (seen & kUnusual) != 0;
  }
};

}  // namespace

std::string_view without_byte_order_mark(std::string_view text) {
  if (text.starts_with(kByteOrderMark)) text.remove_prefix(kByteOrderMark.size());
  return text;
}

std::string_view without_blanks(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

void drop_blank_margins(std::vector<CsvRow>& rows) {
  std::erase_if(rows, [](const CsvRow& row) { return filled_width(row.cells) == 0; });
  if (rows.empty()) return;
  std::size_t widest = 0;
  for (const CsvRow& row : rows) widest = std::max(widest, filled_width(row.cells));
  auto& names = rows.front().cells;
  names.resize(std::min(names.size(), widest));
  for (CsvRow& row : rows) {
    row.cells.resize(std::min(row.cells.size(), std::max(names.size(), filled_width(row.cells))));
  }
}

std::unexpected<Error> too_wide(std::string_view file, std::size_t line) {
  return fail(ErrorKind::kInvalid, "the row has more than 10000 cells", line_place(file, line),
              "save the table as CSV, comma separated");
}

// The library and what it is called back with while lines are fed to it.
struct CsvReader::Unquoting {
  Unquoting() : sound(csv_init(&parser, CSV_STRICT | CSV_STRICT_FINI) == 0) {
    if (sound) csv_set_space_func(&parser, no_space);
  }
  Unquoting(const Unquoting&) = delete;
  Unquoting& operator=(const Unquoting&) = delete;
  Unquoting(Unquoting&&) = delete;
  Unquoting& operator=(Unquoting&&) = delete;
  ~Unquoting() {
    if (sound) csv_free(&parser);
  }

  static void take_cell(void* bytes, std::size_t length, void* unquoting) {
    // The library hands an empty cell over as a null pointer.
    const std::string_view cell =
        bytes == nullptr ? std::string_view() : std::string_view(static_cast<char*>(bytes), length);
    auto& cells = static_cast<Unquoting*>(unquoting)->cells;
    if (cells.size() <= kMostCells) cells.emplace_back(cell);
  }
  static void end_row(int /*terminator*/, void* unquoting) {
    static_cast<Unquoting*>(unquoting)->row_ended = true;
  }

  csv_parser parser{};
  bool sound;
  std::vector<std::string> cells;
  bool row_ended = false;
};

CsvReader::CsvReader(std::string_view text, std::string_view file) : text_(text), file_(file) {}

CsvReader::~CsvReader() = default;

Result<std::optional<CsvReader::Row>> CsvReader::next() {
  while (!text_.empty()) {
    const Line line(text_, cells_);
    text_.remove_prefix(line.text.size());
    ++lines_;
    if (line.unusual) {
      if (auto fault = byte_fault(line.text, line_place(file_, lines_)))
        return std::unexpected(*std::move(fault));
    }
    // Without a quote a line is a row as it stands; one with quotes is for the library.
    if (line.quoted) return quoted_row(line.text);
    if (line.wide) return too_wide(file_, lines_);
    if (line.empty) continue;
    return Row{lines_, cells_};
  }
  return std::nullopt;
}

Result<std::optional<CsvReader::Row>> CsvReader::quoted_row(std::string_view first_line) {
  if (!unquoting_) unquoting_ = std::make_unique<Unquoting>();
  Unquoting& unquoting = *unquoting_;
  if (!unquoting.sound)
    return fail(ErrorKind::kIo, "the CSV reader did not start", file_, "try again");
  const std::size_t first = lines_;
  unquoting.cells.clear();
  unquoting.row_ended = false;
  std::string_view line = first_line;
  for (;;) {
    const std::size_t used = csv_parse(&unquoting.parser, line.data(), line.size(),
                                       Unquoting::take_cell, Unquoting::end_row, &unquoting);
    if (used != line.size()) {
      return fail(ErrorKind::kInvalid, "a quote stands where none can stand",
                  line_place(file_, lines_),
                  "put a cell that holds a quote in quotes and double the quote within");
    }
    if (unquoting.row_ended || text_.empty()) break;
    const Line further(text_, cells_);
    text_.remove_prefix(further.text.size());
    ++lines_;
    if (further.unusual) {
      if (auto fault = byte_fault(further.text, line_place(file_, lines_)))
        return std::unexpected(*std::move(fault));
    }
    line = further.text;
  }
  if (!unquoting.row_ended &&
      csv_fini(&unquoting.parser, Unquoting::take_cell, Unquoting::end_row, &unquoting) != 0) {
    return fail(ErrorKind::kInvalid, "a cell's quotes are never closed", line_place(file_, first),
                "close the quotes");
  }
  if (unquoting.cells.size() > kMostCells) return too_wide(file_, first);
  cells_.assign(unquoting.cells.begin(), unquoting.cells.end());
  return Row{first, cells_};
}

Result<std::vector<CsvRow>> parse_csv(std::string_view text, std::string_view file) {
  CsvReader reader(without_byte_order_mark(text), file);
  std::vector<CsvRow> rows;
  for (;;) {
    const Result<std::optional<CsvReader::Row>> read = reader.next();
    if (!read) return std::unexpected(read.error());
    const std::optional<CsvReader::Row>& row = *read;
    if (!row) return rows;
    rows.push_back({row->line, {row->cells.begin(), row->cells.end()}});
  }
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
      add_fault(faults, {ErrorKind::kInvalid,
                         "column " + std::to_string(table.columns_.size() + 1) + " has no name",
                         line_place(file, header.line), "name it or take it out"});
    } else if (table.find_column(name)) {
      add_fault(faults, {ErrorKind::kInvalid, "column " + name + " stands twice",
                         line_place(file, header.line), "keep one of them"});
    }
    table.columns_.push_back(name);
  }
  for (const CsvRow& row : *rows) {
    if (row.cells.size() == table.columns_.size()) continue;
    add_fault(faults, {ErrorKind::kInvalid,
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
