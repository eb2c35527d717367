#include "sync/results/values_rows.h"

#include <algorithm>
#include <charconv>
#include <utility>

#include "sync/results/labels.h"

namespace ligule::results {
namespace {

using FileRow = files::CsvReader::Row;

std::optional<int> whole(std::string_view text) {
  int value = 0;
  const auto [stop, error] = std::from_chars(text.begin(), text.end(), value);
  if (error != std::errc() || stop != text.end()) return std::nullopt;
  return value;
}

std::string named(ValuesColumn column) {
  return std::string(kValuesColumnNames.at(column));
}

std::uint64_t number_of_plot(const PlotValue& value) {
  constexpr std::uint64_t kOdd = 0x9e3779b97f4a7c15;
  std::uint64_t mixed = std::hash<std::optional<int>>()(value.year);
  for (const Label label : {value.test, value.cutting, value.rep, value.entry, value.plot}) {
    mixed = (mixed ^ std::hash<Label>()(label)) * kOdd;
    mixed ^= mixed >> 32U;
  }
  return mixed;
}

bool is_sum(std::string_view text) {
  return text == "total" || text == "all";
}

bool over_two_lines(std::string_view text) {
  return std::ranges::any_of(text, [](char c) { return c == '\r' || c == '\n'; });
}

// A column of labels: each is judged where it first stands.
class LabelColumn {
 public:
  struct Judged {
    Label label;
    bool faulty = false;
  };

  explicit LabelColumn(ValuesColumn column) : column_(column) {}

  [[nodiscard]] const Judged& at(std::string_view text) {
    const std::size_t number = texts_.of(text, [this](std::string_view first) {
      judged_.push_back({first, faulty(first)});
      return std::string_view(judged_.back().label);
    });
    return judged_[number];
  }

 private:
  [[nodiscard]] bool faulty(std::string_view text) const {
    const bool needed = column_ == kTest || column_ == kEntry;
    return (text.empty() && needed) || (column_ == kCutting && is_sum(text)) ||
           over_two_lines(text);
  }

  ValuesColumn column_;
  Numbering<std::string_view> texts_;
  std::vector<Judged> judged_;
};

class RowReader {
 public:
  RowReader(const ValuesLayout& layout, std::size_t expected) : layout_(layout) {
    // Growing by doubling would touch twice the memory.
    out_.values.reserve(expected);
    out_.lines.reserve(expected);
    out_.plots.reserve(expected);
  }

  RowsRead run(std::string_view text, const std::string& name) {
    files::CsvReader reader(text, name);
    for (;;) {
      const auto row = reader.next();
      if (!row) {
        out_.unreadable = row.error();
        break;
      }
      const std::optional<FileRow>& held = *row;
      if (!held) break;
      read(*held);
    }
    out_.text_lines = reader.lines();
    return std::move(out_);
  }

 private:
  void read(const FileRow& row) {
    const std::size_t filled = row.cells.size() == layout_.width && !row.cells.front().empty()
                                   ? layout_.width
                                   : files::filled_width(row.cells);
    if (filled == 0) return;
    const std::size_t count = std::min(row.cells.size(), std::max(layout_.width, filled));
    if (count != layout_.width) {
      out_.faults.push_back({row.line, std::nullopt,
                             std::to_string(count) + " fields where the first line has " +
                                 std::to_string(layout_.width),
                             "quote a field that holds a comma; write a number with a decimal "
                             "point"});
      out_.bad.push_back({.line = row.line, .value = {}, .placed = false, .occasion_known = false});
      return;
    }
    BadRow judged;
    judged.line = row.line;
    const std::size_t before = out_.faults.size();
    read_labels(row, judged);
    read_year(row, judged);
    read_value(row, judged.value);
    if (out_.faults.size() != before) {
      out_.bad.push_back(judged);
      return;
    }
    out_.values.push_back(judged.value);
    out_.lines.push_back(row.line);
    out_.plots.push_back(number_of_plot(judged.value));
  }

  [[nodiscard]] std::string_view field(const FileRow& row, ValuesColumn column) const {
    const std::optional<std::size_t> place = layout_.places[column];
    return place ? files::without_blanks(row.cells[*place]) : std::string_view();
  }

  void fault(const FileRow& row, ValuesColumn column, std::string what, std::string mend) {
    out_.faults.push_back({row.line, column, std::move(what), std::move(mend)});
  }

  void read_labels(const FileRow& row, BadRow& judged) {
    PlotValue& value = judged.value;
    read_label(row, tests_, kTest, value.test, judged);
    read_label(row, sites_, kSite, value.site, judged);
    read_label(row, cuttings_, kCutting, value.cutting, judged);
    read_label(row, reps_, kRep, value.rep, judged);
    read_label(row, entries_, kEntry, value.entry, judged);
    read_label(row, plots_, kPlot, value.plot, judged);
  }

  void read_label(const FileRow& row, LabelColumn& labels, ValuesColumn column, Label& label,
                  BadRow& judged) {
    const LabelColumn::Judged& found = labels.at(field(row, column));
    label = found.label;
    if (!found.faulty) return;
    tell_faults(row, column, found.label);
    if (column == kCutting) judged.occasion_known = false;
    if (column != kSite) judged.placed = false;
  }

  void tell_faults(const FileRow& row, ValuesColumn column, std::string_view text) {
    if (text.empty()) fault(row, column, "the " + named(column) + " is empty", "name it");
    if (column == kCutting && is_sum(text)) {
      fault(row, column, "\"" + std::string(text) + "\" is kept for sums",
            "leave sums out, they are made here; or give the cutting another name");
    }
    if (over_two_lines(text)) {
      // Readers of the result files take one line for one row.
      fault(row, column, "the " + named(column) + " goes over two lines",
            "keep a cell to one line");
    }
  }

  void read_year(const FileRow& row, BadRow& judged) {
    const std::string_view text = field(row, kYear);
    if (text.empty()) return;
    judged.value.year = whole(text);
    if (judged.value.year) return;
    judged.placed = judged.occasion_known = false;
    fault(row, kYear, "\"" + std::string(text) + "\" is no year",
          is_sum(text) ? "leave sums out, they are made here"
                       : "write the year as 2024, or leave it empty");
  }

  void read_value(const FileRow& row, PlotValue& value) {
    const std::string_view text = field(row, kValue);
    if (text.empty()) return;
    value.value = number(text);
    if (value.value) return;
    fault(row, kValue, "\"" + std::string(text) + "\" is no number",
          text.find(',') != std::string_view::npos
              ? "write a decimal point, not a comma"
              : "write a number with a decimal point, or leave it empty for a missing plot");
  }

  const ValuesLayout& layout_;
  LabelColumn tests_{kTest}, sites_{kSite}, cuttings_{kCutting}, reps_{kRep}, entries_{kEntry},
      plots_{kPlot};
  RowsRead out_;
};

}  // namespace

RowsRead read_rows(std::string_view text, const std::string& name, const ValuesLayout& layout,
                   std::size_t expected) {
  return RowReader(layout, expected).run(text, name);
}

}  // namespace ligule::results
