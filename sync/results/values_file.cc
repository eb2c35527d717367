#include "sync/results/values_file.h"

#include <algorithm>
#include <array>
#include <bit>
#include <charconv>
#include <cstdint>
#include <functional>
#include <map>
#include <optional>
#include <tuple>

#include "storage/files/csv.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

enum Column : std::size_t { kTest, kSite, kYear, kCutting, kRep, kEntry, kValue, kPlot, kColumns };
constexpr std::array<std::string_view, kColumns> kNames = {"test", "site",  "year",  "cutting",
                                                           "rep",  "entry", "value", "plot"};
constexpr std::string_view kExpected = "test,site,year,cutting,rep,entry,value[,plot]";

std::string at(const std::string& name, std::size_t line) {
  return name + " line " + std::to_string(line);
}

std::optional<int> whole(std::string_view text) {
  int value = 0;
  const auto [stop, error] = std::from_chars(text.begin(), text.end(), value);
  if (error != std::errc() || stop != text.end()) return std::nullopt;
  return value;
}

using FileRow = files::CsvLines::Row;

// Which field holds which column; kColumns-sized, empty where the file lacks it.
using Layout = std::array<std::optional<std::size_t>, kColumns>;

// Of one plot at one cutting.
bool same_plot(const PlotValue& a, const PlotValue& b) {
  return a.entry == b.entry && a.rep == b.rep && a.plot == b.plot && a.cutting == b.cutting &&
         a.year == b.year && a.test == b.test;
}

std::size_t hash_of_plot(const PlotValue& value) {
  std::size_t mixed = std::hash<std::optional<int>>()(value.year);
  for (const std::string* label :
       {&value.test, &value.cutting, &value.rep, &value.entry, &value.plot}) {
    constexpr std::size_t kOdd = 0x9e3779b97f4a7c15;
    mixed = (mixed ^ std::hash<std::string_view>()(*label)) * kOdd;
    mixed ^= mixed >> 32U;
  }
  return mixed;
}

class Reader {
 public:
  explicit Reader(std::string name) : name_(std::move(name)) {}

  ValuesFile read(const files::CsvLines& rows) {
    if (rows.size() == 0) {
      fault(1, std::nullopt, "the file is empty", "the first line must name the columns");
      return std::move(out_);
    }
    read_header(rows.row(0));
    if (!out_.faults.empty()) return std::move(out_);
    rows_.reserve(rows.size());
    for (std::size_t i = 1; i < rows.size(); ++i) read_row(rows.row(i));
    refuse_repeated_plots();
    refuse_half_named_reps();
    part_bad_rows();
    std::ranges::stable_sort(faults_by_line_, {}, &LineFault::line);
    for (LineFault& found : faults_by_line_) out_.faults.push_back(std::move(found.error));
    return std::move(out_);
  }

 private:
  struct LineFault {
    std::size_t line;
    Error error;
  };

  void fault(std::size_t line, std::optional<Column> column, std::string what, std::string mend) {
    std::string where = at(name_, line);
    const std::optional<std::size_t> place = column ? layout_[*column] : std::nullopt;
    if (column && place) {
      where += " column " + std::to_string(*place + 1) + " (" + std::string(kNames[*column]) + ")";
    }
    Error error{ErrorKind::kInvalid, std::move(what), std::move(where), std::move(mend)};
    if (reading_rows_) {
      faults_by_line_.push_back({line, std::move(error)});
    } else {
      out_.faults.push_back(std::move(error));
    }
  }

  void read_header(const FileRow& header) {
    for (std::size_t i = 0; i < header.cells.size(); ++i) {
      const std::string_view title = files::without_blanks(header.cells[i]);
      const auto found = std::ranges::find(kNames, title);
      if (found == kNames.end()) {
        fault(header.line, std::nullopt,
              "column " + std::to_string(i + 1) + " \"" + std::string(title) + "\" is not known",
              "the columns are " + std::string(kExpected) + ", separated by commas");
        continue;
      }
      auto& place = layout_[static_cast<std::size_t>(found - kNames.begin())];
      if (place) {
        fault(header.line, std::nullopt, "column \"" + std::string(title) + "\" stands twice",
              "keep one of them");
      }
      place = i;
    }
    for (std::size_t column = 0; column < kPlot; ++column) {
      if (layout_[column]) continue;
      fault(header.line, std::nullopt, "column \"" + std::string(kNames[column]) + "\" is missing",
            "the columns are " + std::string(kExpected) + ", separated by commas");
    }
    width_ = header.cells.size();
    reading_rows_ = true;
    out_.rows_read = out_.faults.empty();
  }

  // A row that was read, and whether anything is wrong with it.
  struct ReadRow {
    BadRow row;
    bool bad = false;       // a cell of it
    bool standing = false;  // how it stands beside others
  };

  void read_row(const FileRow& row) {
    ReadRow& read = rows_.emplace_back();
    read.row.line = row.line;
    if (row.cells.size() != width_) {
      fault(row.line, std::nullopt,
            std::to_string(row.cells.size()) + " fields where the first line has " +
                std::to_string(width_),
            "quote a field that holds a comma; write a number with a decimal point");
      read.bad = true;
      read.row.placed = read.row.occasion_known = false;
      return;
    }
    PlotValue& value = read.row.value;
    const std::size_t before = faults_by_line_.size();
    for (const Column column : {kTest, kSite, kCutting, kRep, kEntry, kPlot}) {
      const std::size_t before_cell = faults_by_line_.size();
      read_label(row, column, value);
      if (faults_by_line_.size() == before_cell) continue;
      if (column == kCutting) read.row.occasion_known = false;
      if (column != kSite) read.row.placed = false;
    }
    read_year(row, value);
    if (!value.year && !files::without_blanks(field(row, kYear)).empty()) {
      read.row.placed = read.row.occasion_known = false;
    }
    read_value(row, value);
    read.bad = faults_by_line_.size() != before;
  }

  void part_bad_rows() {
    out_.values.reserve(rows_.size());
    out_.lines.reserve(rows_.size());
    for (ReadRow& read : rows_) {
      if (read.bad || read.standing) {
        out_.bad.push_back(std::move(read.row));
        continue;
      }
      out_.values.push_back(std::move(read.row.value));
      out_.lines.push_back(read.row.line);
    }
  }

  [[nodiscard]] std::string_view field(const FileRow& row, Column column) const {
    const std::optional<std::size_t> place = layout_[column];
    return place ? row.cells[*place] : std::string_view();
  }

  void read_label(const FileRow& row, Column column, PlotValue& value) {
    const std::string_view text = files::without_blanks(field(row, column));
    if (text.empty() && (column == kTest || column == kEntry)) {
      fault(row.line, column, "the " + std::string(kNames[column]) + " is empty", "name it");
    }
    if (column == kCutting && (text == "total" || text == "all")) {
      fault(row.line, column, "\"" + std::string(text) + "\" is kept for sums",
            "leave sums out, they are made here; or give the cutting another name");
    }
    if (std::ranges::any_of(text, [](char c) { return c == '\r' || c == '\n'; })) {
      // Readers of the result files take one line for one row.
      fault(row.line, column, "the " + std::string(kNames[column]) + " goes over two lines",
            "keep a cell to one line");
    }
    switch (column) {
      case kTest:
        value.test = text;
        break;
      case kSite:
        value.site = text;
        break;
      case kCutting:
        value.cutting = text;
        break;
      case kRep:
        value.rep = text;
        break;
      case kEntry:
        value.entry = text;
        break;
      case kPlot:
        value.plot = text;
        break;
      default:
        break;
    }
  }

  void read_year(const FileRow& row, PlotValue& value) {
    const std::string_view text = files::without_blanks(field(row, kYear));
    if (text.empty()) return;
    value.year = whole(text);
    if (value.year) return;
    fault(row.line, kYear, "\"" + std::string(text) + "\" is no year",
          text == "all" || text == "total" ? "leave sums out, they are made here"
                                           : "write the year as 2024, or leave it empty");
  }

  void read_value(const FileRow& row, PlotValue& value) {
    const std::string_view text = files::without_blanks(field(row, kValue));
    if (text.empty()) return;
    value.value = number(text);
    if (value.value) return;
    fault(row.line, kValue, "\"" + std::string(text) + "\" is no number",
          text.find(',') != std::string_view::npos
              ? "write a decimal point, not a comma"
              : "write a number with a decimal point, or leave it empty for a missing plot");
  }

  // Without this two rows of one plot would be summed or one of them lost.
  void refuse_repeated_plots() {
    // Rows by their hashes, each in the first free slot from its own on; 0 is free, n is row n - 1.
    const std::size_t mask = std::bit_ceil(2 * rows_.size() + 1) - 1;
    std::vector<std::size_t> slots(mask + 1, 0);
    std::vector<std::size_t> hashes(rows_.size(), 0);
    for (std::size_t i = 0; i < rows_.size(); ++i) {
      ReadRow& read = rows_[i];
      if (read.bad) continue;
      const PlotValue& value = read.row.value;
      hashes[i] = hash_of_plot(value);
      std::size_t slot = hashes[i] & mask;
      const auto is_it = [&](std::size_t row) {
        return hashes[row] == hashes[i] && same_plot(rows_[row].row.value, value);
      };
      while (slots[slot] != 0 && !is_it(slots[slot] - 1)) slot = (slot + 1) & mask;
      if (slots[slot] == 0) {
        slots[slot] = i + 1;
        continue;
      }
      read.standing = read.row.repeats = true;
      fault(read.row.line, kEntry,
            "entry \"" + value.entry + "\" already has this plot and cutting on line " +
                std::to_string(rows_[slots[slot] - 1].row.line),
            layout_[kPlot] ? "remove one of the rows, or number their plots apart"
                           : "remove one of the rows, or add a column plot that tells them apart");
    }
  }

  // A rep left empty in every row means published means; in some rows it is a slip.
  void refuse_half_named_reps() {
    const auto unnamed = [](const ReadRow& read) { return read.row.value.rep.empty(); };
    if (std::ranges::none_of(rows_, unnamed)) return;
    std::map<std::tuple<std::string_view, std::optional<int>, std::string_view>, bool> has_rep;
    for (const ReadRow& read : rows_) {
      if (read.bad) continue;
      const PlotValue& v = read.row.value;
      bool& any = has_rep[{v.test, v.year, v.cutting}];
      any = any || !v.rep.empty();
    }
    for (ReadRow& read : rows_) {
      const PlotValue& v = read.row.value;
      if (read.bad || !v.rep.empty() || !has_rep[{v.test, v.year, v.cutting}]) continue;
      read.standing = true;
      read.row.placed = false;
      fault(read.row.line, kRep,
            "the rep is empty while other rows of this test and cutting name one",
            "name the rep, or leave it empty in all of them for published means");
    }
  }

  std::string name_;
  Layout layout_{};
  std::size_t width_ = 0;
  bool reading_rows_ = false;
  ValuesFile out_;
  std::vector<ReadRow> rows_;
  std::vector<LineFault> faults_by_line_;
};

}  // namespace

Result<ValuesFile> parse_values(std::string_view text, const std::string& name) {
  if (text.find('\0') != std::string_view::npos) {
    return fail(ErrorKind::kInvalid, "this is no CSV file", name,
                "save the sheet as CSV in UTF-8, with commas");
  }
  Result<files::CsvLines> lines = files::CsvLines::parse(text, name);
  if (!lines) {
    ValuesFile unread;
    unread.faults.push_back(lines.error());
    return unread;
  }
  lines->drop_blank_margins();
  return Reader(name).read(*lines);
}

Result<ValuesFile> read_values(files::FileSystem& files, const std::string& path) {
  // Far above any programme's harvest; a disk image given by mistake must not fill the memory.
  constexpr std::uint64_t kMostBytes = std::uint64_t{1} << 30U;
  const Result<std::string> text = files.read(path, kMostBytes);
  if (!text) return std::unexpected(text.error());
  return parse_values(*text, path);
}

}  // namespace ligule::results
