#include "sync/results/values_file.h"

#include <algorithm>
#include <bit>
#include <cstdint>
#include <iterator>
#include <map>
#include <optional>
#include <tuple>
#include <utility>

#include "storage/files/csv.h"
#include "sync/results/in_parts.h"
#include "sync/results/values_rows.h"

namespace ligule::results {
namespace {

constexpr std::string_view kExpected = "test,site,year,cutting,rep,entry,value[,plot]";

std::string at(const std::string& name, std::size_t line) {
  return name + " line " + std::to_string(line);
}

using FileRow = files::CsvReader::Row;

// Of one plot at one cutting.
bool same_plot(const PlotValue& a, const PlotValue& b) {
  return a.entry == b.entry && a.rep == b.rep && a.plot == b.plot && a.cutting == b.cutting &&
         a.year == b.year && a.test == b.test;
}

class Reader {
 public:
  Reader(std::string_view text, const std::string& name) : text_(text), name_(name) {}

  ValuesFile read() {
    files::CsvReader rows(text_, name_);
    if (!read_first_line(rows)) return std::move(out_);
    if (std::optional<Error> unreadable = read_all(rows)) {
      out_ = {};
      out_.faults.push_back(*std::move(unreadable));
      return std::move(out_);
    }
    repeated_.resize(out_.values.size(), false);
    unnamed_.resize(out_.values.size(), false);
    refuse_repeated_plots();
    refuse_half_named_reps();
    part_bad_rows();
    std::ranges::stable_sort(faults_, {}, &RowFault::line);
    out_.faults.reserve(faults_.size());
    for (RowFault& fault : faults_) out_.faults.push_back(error_of(std::move(fault)));
    return std::move(out_);
  }

 private:
  [[nodiscard]] Error error_of(RowFault fault) const {
    std::string where = at(name_, fault.line);
    const std::optional<std::size_t> place =
        fault.column ? layout_.places[*fault.column] : std::nullopt;
    if (fault.column && place) {
      where += " column " + std::to_string(*place + 1) + " (" +
               std::string(kValuesColumnNames.at(*fault.column)) + ")";
    }
    return {ErrorKind::kInvalid, std::move(fault.what), std::move(where), std::move(fault.mend)};
  }

  void fault(std::size_t line, std::string what, std::string mend) {
    out_.faults.push_back({ErrorKind::kInvalid, std::move(what), at(name_, line), std::move(mend)});
  }

  // False where there is nothing more to be read; the faults are told then.
  bool read_first_line(files::CsvReader& rows) {
    for (;;) {
      const auto row = rows.next();
      if (!row) {
        out_.faults.push_back(row.error());
        return false;
      }
      const std::optional<FileRow>& header = *row;
      if (!header) {
        fault(1, "the file is empty", "the first line must name the columns");
        return false;
      }
      if (files::filled_width(header->cells) == 0) continue;
      read_header(*header, rows.rest());
      break;
    }
    out_.rows_read = out_.faults.empty();
    if (out_.rows_read) return true;
    // What is no text at all is told alone.
    for (auto row = rows.next(); !row || *row; row = rows.next()) {
      if (row) continue;
      out_.faults.assign(1, row.error());
      break;
    }
    return false;
  }

  // How many fields the first line has, without those on the right that no row says anything in.
  [[nodiscard]] std::size_t width_of(const FileRow& header, std::string_view rest) const {
    std::size_t widest = files::filled_width(header.cells);
    files::CsvReader rows(rest, name_);
    while (widest < header.cells.size()) {
      const std::optional<FileRow> row = rows.next().value_or(std::nullopt);
      if (!row) break;
      widest = std::max(widest, files::filled_width(row->cells));
    }
    return std::min(widest, header.cells.size());
  }

  void read_header(const FileRow& header, std::string_view rest) {
    // As spreadsheets write where the comma is the decimal sign; every column would seem missing.
    if (header.cells.size() == 1 &&
        header.cells.front().find_first_of(";\t") != std::string::npos) {
      fault(header.line, "the columns are not separated by commas",
            "save the sheet as CSV with commas between the columns and decimal points");
      return;
    }
    layout_.width = width_of(header, rest);
    for (std::size_t i = 0; i < layout_.width; ++i) {
      const std::string_view title = files::without_blanks(header.cells[i]);
      const auto found = std::ranges::find(kValuesColumnNames, title);
      if (found == kValuesColumnNames.end()) {
        fault(header.line,
              "column " + std::to_string(i + 1) + " \"" + std::string(title) + "\" is not known",
              "the columns are " + std::string(kExpected) + ", separated by commas");
        continue;
      }
      auto& place = layout_.places[static_cast<std::size_t>(found - kValuesColumnNames.begin())];
      if (place) {
        fault(header.line, "column \"" + std::string(title) + "\" stands twice",
              "keep one of them");
      }
      place = i;
    }
    for (std::size_t column = 0; column < kPlot; ++column) {
      if (layout_.places[column]) continue;
      fault(header.line, "column \"" + std::string(kValuesColumnNames[column]) + "\" is missing",
            "the columns are " + std::string(kExpected) + ", separated by commas");
    }
  }

  // Where the first line from a place on begins.
  static std::size_t begin_of_line(std::string_view text, std::size_t from) {
    if (from == 0) return 0;
    const std::size_t end = text.find('\n', from - 1);
    return end == std::string_view::npos ? text.size() : end + 1;
  }

  // All rows, in parts of the text where no quotes may reach over several lines of it.
  std::optional<Error> read_all(const files::CsvReader& rows) {
    const std::string_view text = rows.rest();
    const std::string_view sample = text.substr(0, 4096);
    const std::size_t expected = (static_cast<std::size_t>(std::ranges::count(sample, '\n')) + 1) *
                                 (text.size() / (sample.size() + 1) + 1);
    const auto part = [&](std::size_t first, std::size_t last) {
      const std::size_t begin = begin_of_line(text, first);
      const std::size_t end = begin_of_line(text, last);
      // The first part has room for the rows of all, which are put behind its own.
      const std::size_t share = first == 0 ? expected : expected * (end - begin) / text.size() + 1;
      std::vector<RowsRead> read;
      read.push_back(read_rows(text.substr(begin, end - begin), name_, layout_, share));
      return read;
    };
    const bool quoted = text.find('"') != std::string_view::npos;
    std::vector<RowsRead> parts =
        quoted ? part(0, text.size()) : in_parts<RowsRead>(text.size(), expected, part);
    if (std::ranges::any_of(parts,
                            [](const RowsRead& each) { return each.unreadable.has_value(); }))
      return unreadable();
    std::size_t lines = rows.lines();
    for (RowsRead& each : parts) {
      const std::size_t of_part = each.text_lines;
      append(std::move(each), lines);
      lines += of_part;
    }
    return std::nullopt;
  }

  // Why the text can't be taken apart, with the place in the whole of it.
  [[nodiscard]] std::optional<Error> unreadable() const {
    files::CsvReader rows(text_, name_);
    auto row = rows.next();
    while (row && *row) row = rows.next();
    return row ? std::nullopt : std::optional(row.error());
  }

  void append(RowsRead part, std::size_t lines_before) {
    for (std::size_t& line : part.lines) line += lines_before;
    for (BadRow& row : part.bad) row.line += lines_before;
    for (RowFault& fault : part.faults) fault.line += lines_before;
    const auto add = [](auto& all, auto& more) {
      if (all.empty())
        all = std::move(more);
      else
        all.insert(all.end(), std::make_move_iterator(more.begin()),
                   std::make_move_iterator(more.end()));
    };
    add(out_.values, part.values);
    add(out_.lines, part.lines);
    add(plots_, part.plots);
    add(out_.bad, part.bad);
    add(faults_, part.faults);
  }

  // Without this two rows of one plot would be summed or one of them lost.
  void refuse_repeated_plots() {
    // Rows by their plots' numbers, each in the first free slot from its own on; 0 is free, n is
    // row n - 1. Part of the number stands with it, so that rows are hardly looked at.
    struct Slot {
      std::uint32_t row = 0, part = 0;
    };
    const std::size_t mask = std::bit_ceil(2 * out_.values.size() + 1) - 1;
    std::vector<Slot> slots(mask + 1);
    for (std::size_t i = 0; i < out_.values.size(); ++i) {
      const auto part = static_cast<std::uint32_t>(plots_[i] >> 32U);
      const auto is_other = [&](Slot slot) {
        return slot.part != part || !same_plot(out_.values[slot.row - 1], out_.values[i]);
      };
      std::size_t slot = plots_[i] & mask;
      while (slots[slot].row != 0 && is_other(slots[slot])) slot = (slot + 1) & mask;
      if (slots[slot].row == 0) {
        slots[slot] = {static_cast<std::uint32_t>(i + 1), part};
        continue;
      }
      const PlotValue& value = out_.values[i];
      repeated_[i] = true;
      faults_.push_back(
          {out_.lines[i], kEntry,
           "entry \"" + value.entry.text() + "\" already has this plot and cutting on line " +
               std::to_string(out_.lines[slots[slot].row - 1]),
           layout_.places[kPlot]
               ? "remove one of the rows, or number their plots apart"
               : "remove one of the rows, or add a column plot that tells them apart"});
    }
  }

  // A rep left empty in every row means published means; in some rows it is a slip.
  void refuse_half_named_reps() {
    const auto unnamed = [](const PlotValue& value) { return value.rep.empty(); };
    if (std::ranges::none_of(out_.values, unnamed)) return;
    std::map<std::tuple<Label, std::optional<int>, Label>, bool> has_rep;
    for (const PlotValue& v : out_.values) {
      bool& any = has_rep[{v.test, v.year, v.cutting}];
      any = any || !v.rep.empty();
    }
    for (std::size_t i = 0; i < out_.values.size(); ++i) {
      const PlotValue& v = out_.values[i];
      if (!v.rep.empty() || !has_rep[{v.test, v.year, v.cutting}]) continue;
      unnamed_[i] = true;
      faults_.push_back({out_.lines[i], kRep,
                         "the rep is empty while other rows of this test and cutting name one",
                         "name the rep, or leave it empty in all of them for published means"});
    }
  }

  // Rows that are faulty beside others leave the values, too.
  void part_bad_rows() {
    const auto bad = [this](std::size_t i) { return repeated_[i] || unnamed_[i]; };
    // Hardly a file has such rows, and none of a sound one's needs to be moved.
    std::size_t kept = 0;
    while (kept < out_.values.size() && !bad(kept)) ++kept;
    for (std::size_t i = kept; i < out_.values.size(); ++i) {
      if (bad(i)) {
        out_.bad.push_back({.line = out_.lines[i],
                            .value = out_.values[i],
                            .placed = !unnamed_[i],
                            .repeats = repeated_[i]});
        continue;
      }
      out_.values[kept] = out_.values[i];
      out_.lines[kept] = out_.lines[i];
      ++kept;
    }
    out_.values.resize(kept);
    out_.lines.resize(kept);
    std::ranges::stable_sort(out_.bad, {}, &BadRow::line);
  }

  std::string_view text_;
  const std::string& name_;
  ValuesLayout layout_;
  ValuesFile out_;
  std::vector<RowFault> faults_;
  std::vector<std::uint64_t> plots_;      // of values, as RowsRead has them
  std::vector<bool> repeated_, unnamed_;  // of values
};

}  // namespace

Result<ValuesFile> parse_values(std::string_view text, const std::string& name) {
  if (text.find('\0') != std::string_view::npos) {
    return fail(ErrorKind::kInvalid, "this is no CSV file", name,
                "save the sheet as CSV in UTF-8, with commas");
  }
  return Reader(files::without_byte_order_mark(text), name).read();
}

Result<ValuesFile> read_values(files::FileSystem& files, const std::string& path) {
  // Far above any programme's harvest; a disk image given by mistake must not fill the memory.
  constexpr std::uint64_t kMostBytes = std::uint64_t{1} << 30U;
  const Result<std::string> text = files.read(path, kMostBytes);
  if (!text) return std::unexpected(text.error());
  return parse_values(*text, path);
}

}  // namespace ligule::results
