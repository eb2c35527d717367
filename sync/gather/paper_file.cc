#include "sync/gather/paper_file.h"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <utility>

#include "storage/files/csv.h"
#include "storage/trial/record_line.h"
#include "sync/gather/file_lines.h"
#include "sync/gather/paper_values.h"

namespace ligule::gather {
namespace {

class PaperReader {
 public:
  PaperReader(const files::Table& table, std::string_view text)
      : table_(table), physical_(lines_of(text)) {}

  files::Checked<std::vector<PaperLine>> read() {
    const auto plot = table_.find_column(kPlotHeading);
    if (!plot || table_.columns().size() < 2) return std::unexpected(files::Faults{no_columns()});
    for (const files::CsvRow& row : table_.rows()) read_row(row, *plot);
    if (lines_.empty() && faults_.empty())
      faults_.push_back({ErrorKind::kInvalid, "nothing is filled in", table_.file(),
                         "type what stands on the sheets, and save the table as CSV"});
    if (!faults_.empty()) return std::unexpected(std::move(faults_));
    return std::move(lines_);
  }

 private:
  [[nodiscard]] Error no_columns() const {
    const bool one_cell = table_.columns().size() == 1 && table_.columns()[0] != kPlotHeading;
    return {ErrorKind::kInvalid, "a column \"plot\" and one for each measure are wanted",
            table_.file() + " line " + std::to_string(table_.header_line()),
            one_cell ? "save the table as CSV, comma separated"
                     : "fill in the table that plot-sheets --csv makes"};
  }

  void read_row(const files::CsvRow& row, std::size_t plot) {
    PaperLine line{
        table_.place(row), raw_of(row), std::string(files::without_blanks(row.cells[plot])), {}};
    for (std::size_t n = 0; n < row.cells.size(); ++n) {
      const std::string_view cell = files::without_blanks(row.cells[n]);
      if (n == plot || cell.empty() || cell == kLeftOpen) continue;
      if (row.cells[n].find_first_of("\r\n") != std::string::npos) {
        faults_.push_back({ErrorKind::kInvalid, "a cell goes over two lines",
                           table_.place(row, table_.columns()[n]), "keep a row on one line"});
        return;
      }
      line.texts[table_.columns()[n]] = cleaned(cell);
    }
    if (line.texts.empty()) return;
    if (line.plot.empty()) {
      faults_.push_back({ErrorKind::kInvalid, "there is no plot number",
                         table_.place(row, kPlotHeading), "write it"});
      return;
    }
    lines_.push_back(std::move(line));
  }

  [[nodiscard]] std::string raw_of(const files::CsvRow& row) const {
    return row.line <= physical_.size() ? cleaned(physical_[row.line - 1]) : std::string();
  }

  const files::Table& table_;
  std::vector<std::string_view> physical_;
  std::vector<PaperLine> lines_;
  files::Faults faults_;
};

}  // namespace

files::Checked<std::vector<PaperLine>> read_paper_file(std::string_view text,
                                                       std::string_view name) {
  const auto table = files::Table::parse(text, name);
  if (!table) return std::unexpected(table.error());
  return PaperReader(*table, text).read();
}

}  // namespace ligule::gather
