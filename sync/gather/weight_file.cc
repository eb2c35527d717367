#include "sync/gather/weight_file.h"

#include <algorithm>
#include <array>
#include <optional>
#include <ranges>
#include <set>
#include <span>
#include <utility>

#include "storage/files/csv.h"
#include "sync/gather/file_lines.h"

namespace ligule::gather {
namespace {

constexpr std::array kColumns{column::kPlot, column::kPart,        column::kDate,
                              column::kTime, column::kGross,       column::kTare,
                              column::kBag,  column::kSampleFresh, column::kSampleDry};
constexpr std::array kWeights{column::kGross, column::kTare, column::kSampleFresh,
                              column::kSampleDry};
constexpr std::string_view kOption = "--columns";

std::string list_of(std::span<const std::string_view> names) {
  std::string list;
  for (const std::string_view name : names) list += (list.empty() ? "" : ", ") + std::string(name);
  return list;
}

bool is_weight(std::string_view name) {
  return std::ranges::find(kWeights, name) != kWeights.end();
}

class Reader {
 public:
  Reader(std::string_view text, std::string_view name, const WeightColumns& columns, bool blanks)
      : columns_(columns), leave_blanks_(blanks), lines_(lines_of(text)) {
    file_.name = name;
    file_.columns = columns;
  }

  files::Checked<WeightFile> read(std::vector<files::CsvRow> rows) {
    std::erase_if(rows, [](const files::CsvRow& row) {
      return std::ranges::all_of(
          row.cells, [](const std::string& cell) { return files::without_blanks(cell).empty(); });
    });
    const auto header = std::ranges::find_if(
        rows, [&](const files::CsvRow& row) { return missing_in(row).empty(); });
    if (header == rows.end()) return std::unexpected(files::Faults{no_header(rows)});
    // What a spreadsheet leaves right of the table counts from its headings on.
    rows.erase(rows.begin(), header);
    files::drop_blank_margins(rows);
    place_columns(rows.front());
    for (const files::CsvRow& row : rows | std::views::drop(1)) read_row(row);
    if (file_.rows.empty() && faults_.empty())
      fault(rows.front().line, {}, "no row follows the column names",
            "give the file of the weights");
    if (!faults_.empty()) return std::unexpected(std::move(faults_));
    return std::move(file_);
  }

 private:
  void fault(std::size_t line, std::string_view column, std::string what, std::string mend) {
    std::string where = file_.name + " line " + std::to_string(line);
    if (const auto at = columns_.find(column); at != columns_.end())
      where += ", column " + at->second;
    faults_.push_back({ErrorKind::kInvalid, std::move(what), std::move(where), std::move(mend)});
  }

  // Headings that a row does not hold.
  [[nodiscard]] std::vector<std::string> missing_in(const files::CsvRow& row) const {
    std::vector<std::string> missing;
    for (const auto& [name, heading] : columns_) {
      const bool there = std::ranges::any_of(row.cells, [&](const std::string& cell) {
        return files::without_blanks(cell) == heading;
      });
      if (!there) missing.push_back(heading);
    }
    return missing;
  }

  [[nodiscard]] Error no_header(const std::vector<files::CsvRow>& rows) const {
    std::vector<std::string> missing;
    std::size_t line = 1;
    for (const files::CsvRow& row : rows) {
      std::vector<std::string> of_row = missing_in(row);
      if (of_row.size() == columns_.size()) continue;
      if (!missing.empty() && of_row.size() >= missing.size()) continue;
      missing = std::move(of_row);
      line = row.line;
    }
    std::string named;
    if (missing.empty())
      for (const auto& [name, heading] : columns_) missing.push_back(heading);
    for (const std::string& heading : missing)
      named += (named.empty() ? "\"" : ", \"") + heading + "\"";
    const bool one_cell =
        std::ranges::all_of(rows, [](const files::CsvRow& row) { return row.cells.size() == 1; });
    return {ErrorKind::kInvalid, "no column is headed " + named,
            file_.name + " line " + std::to_string(line),
            one_cell && !rows.empty()
                ? "the columns are not separated by commas: save the table as CSV, comma separated"
                : "give the headings as they stand in the file, letter by letter"};
  }

  void place_columns(const files::CsvRow& header) {
    file_.header_line = header.line;
    width_ = header.cells.size();
    for (const auto& [name, heading] : columns_) {
      const std::string& wanted = heading;
      const auto same = [&wanted](const std::string& cell) {
        return files::without_blanks(cell) == wanted;
      };
      const auto at = std::ranges::find_if(header.cells, same);
      places_[name] = static_cast<std::size_t>(at - header.cells.begin());
      if (std::ranges::count_if(header.cells, same) > 1)
        fault(header.line, name, "two columns are headed so", "give one of them another heading");
    }
  }

  [[nodiscard]] std::string raw_of(const files::CsvRow& row) const {
    return row.line <= lines_.size() ? std::string(lines_[row.line - 1]) : std::string();
  }

  // Whether the line can be kept as it is.
  bool on_one_line(const files::CsvRow& row) {
    for (const std::string& cell : row.cells) {
      if (cell.find_first_of("\r\n") != std::string::npos) {
        fault(row.line, {}, "a cell goes over two lines", "keep a row on one line");
        return false;
      }
    }
    if (raw_of(row).find('\t') == std::string::npos) return true;
    fault(row.line, {}, "the line holds a tab", "save the table as CSV, comma separated");
    return false;
  }

  void read_row(const files::CsvRow& row) {
    if (!on_one_line(row)) return;
    if (row.cells.size() != width_) {
      fault(row.line, {},
            "the row has " + std::to_string(row.cells.size()) + " cells, the column names " +
                std::to_string(width_),
            "write numbers with a decimal point, and quote a cell that holds a comma");
      return;
    }
    WeightRow read{row.line, raw_of(row), {}};
    for (const auto& [name, place] : places_) {
      const std::string_view cell = files::without_blanks(row.cells[place]);
      if (!cell.empty()) read.cells[name] = cell;
    }
    const std::size_t faults = faults_.size();
    look_at(read);
    if (faults_.size() == faults && has_weight(read)) file_.rows.push_back(std::move(read));
  }

  // The plot's weight where there is a column for it, else any of a sample.
  [[nodiscard]] bool has_weight(const WeightRow& row) const {
    if (columns_.contains(column::kGross)) return row.cells.contains(column::kGross);
    return std::ranges::any_of(kWeights,
                               [&](std::string_view name) { return row.cells.contains(name); });
  }

  void look_at(const WeightRow& row) {
    const std::string plot = row.cell(column::kPlot);
    if (plot.empty()) fault(row.line, column::kPlot, "there is no plot number", "write it");
    for (const auto& [name, text] : row.cells) {
      if (is_weight(name) && text.find(',') != std::string::npos)
        fault(row.line, name, "'" + text + "' has a comma",
              "write a decimal point, and nothing between thousands");
    }
    if (has_weight(row)) return;
    if (leave_blanks_) {
      file_.without_weight.push_back(plot);
      return;
    }
    fault(row.line, columns_.contains(column::kGross) ? column::kGross : std::string_view(),
          "plot " + plot + " has no weight",
          "write it, take the row out, or give --leave-blanks to pass such rows over");
  }

  const WeightColumns& columns_;
  bool leave_blanks_;
  std::vector<std::string_view> lines_;
  WeightFile file_;
  std::size_t width_ = 0;
  std::map<std::string, std::size_t, std::less<>> places_;
  files::Faults faults_;
};

}  // namespace

std::string WeightRow::cell(std::string_view name) const {
  const auto at = cells.find(name);
  return at == cells.end() ? std::string() : at->second;
}

Result<WeightColumns> parse_weight_columns(std::string_view text) {
  const auto refuse = [](std::string what, std::string mend) {
    return fail(ErrorKind::kInvalid, std::move(what), std::string(kOption), std::move(mend));
  };
  const std::string known = "columns are " + list_of(kColumns);
  const auto rows = files::parse_csv(text, kOption);
  if (!rows || rows->size() != 1)
    return refuse("that names no columns", "write plot=Plot,gross=Weight");
  WeightColumns columns;
  std::set<std::string> headings;
  for (const std::string& cell : rows->front().cells) {
    const std::size_t equals = cell.find('=');
    const std::string name(files::without_blanks(std::string_view(cell).substr(0, equals)));
    if (equals == std::string::npos)
      return refuse("'" + cell + "' names no column", "write plot=Plot,gross=Weight");
    std::string heading(files::without_blanks(std::string_view(cell).substr(equals + 1)));
    if (std::ranges::find(kColumns, name) == kColumns.end())
      return refuse("no record holds a '" + name + "'", known);
    if (heading.empty())
      return refuse("'" + name + "' has no heading", "write " + name + "=Heading");
    if (!headings.insert(heading).second)
      return refuse("\"" + heading + "\" stands for two columns", "give each its own");
    if (!columns.emplace(name, std::move(heading)).second)
      return refuse("'" + name + "' is named twice", "name it once");
  }
  if (!columns.contains(column::kPlot))
    return refuse("no column holds the plot number", "add plot=Heading");
  if (std::ranges::none_of(kWeights, [&](std::string_view name) { return columns.contains(name); }))
    return refuse("no column holds a weight", "add gross=Heading; " + known);
  return columns;
}

files::Checked<WeightFile> read_weight_file(std::string_view text, std::string_view name,
                                            const WeightColumns& columns, bool leave_blanks) {
  auto rows = files::parse_csv(text, name);
  if (!rows) return std::unexpected(files::Faults{rows.error()});
  return Reader(text, name, columns, leave_blanks).read(*std::move(rows));
}

}  // namespace ligule::gather
