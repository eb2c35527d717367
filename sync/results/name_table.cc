#include "sync/results/name_table.h"

#include <algorithm>
#include <cstdint>

namespace ligule::results {
namespace {

std::string names_of_columns(std::span<const NameColumn> columns) {
  std::string names;
  for (const NameColumn& column : columns)
    names += (names.empty() ? "" : ",") + std::string(column.name);
  return names;
}

void check_header(const files::Table& table, std::span<const NameColumn> columns,
                  std::vector<Error>& faults) {
  const std::string where = table.file() + " line " + std::to_string(table.header_line());
  const std::string mend = "the columns are " + names_of_columns(columns) + ", separated by commas";
  for (const std::string& name : table.columns()) {
    if (std::ranges::find(columns, name, &NameColumn::name) != columns.end()) continue;
    faults.push_back({ErrorKind::kInvalid, "column \"" + name + "\" is not known", where, mend});
  }
  for (const NameColumn& column : columns) {
    if (!column.required || table.find_column(column.name)) continue;
    faults.push_back({ErrorKind::kInvalid, "column \"" + std::string(column.name) + "\" is missing",
                      where, mend});
  }
}

bool cells_hold(NameRow& row, std::span<const NameColumn> columns) {
  const std::size_t before = row.faults();
  for (const NameColumn& column : columns) {
    const std::string text = row.text(column.name);
    if (text.find_first_of("\r\n") != std::string::npos) {
      row.fault(column.name, "the cell goes over two lines", "keep a cell to one line");
    }
    if (column.required && text.empty()) {
      row.fault(column.name, "the cell is empty",
                "fill it in, or take the row out: it says nothing without");
    }
  }
  return row.faults() == before;
}

}  // namespace

std::string NameRow::text(std::string_view column) const {
  const std::optional<std::size_t> at = table_.find_column(column);
  return at ? std::string(files::without_blanks(row_.cells[*at])) : std::string();
}

bool NameRow::yes(std::string_view column) {
  const std::string said = text(column);
  if (said == "yes") return true;
  if (!said.empty()) fault(column, "\"" + said + "\" is not known here", "write yes or nothing");
  return false;
}

void NameRow::fault(std::string_view column, std::string what, std::string mend) {
  faults_.push_back(
      {ErrorKind::kInvalid, std::move(what), table_.place(row_, column), std::move(mend)});
}

Result<void> read_name_table(std::string_view text, const std::string& file,
                             std::span<const NameColumn> columns, std::vector<Error>& faults,
                             const std::function<void(NameRow&)>& each) {
  if (text.find('\0') != std::string_view::npos) {
    return fail(ErrorKind::kInvalid, "this is no CSV file", file,
                "save the sheet as CSV in UTF-8, with commas");
  }
  const files::Checked<files::Table> table = files::Table::parse(text, file);
  if (!table) {
    faults.insert(faults.end(), table.error().begin(), table.error().end());
    return {};
  }
  check_header(*table, columns, faults);
  if (!faults.empty()) return {};
  for (const files::CsvRow& cells : table->rows()) {
    NameRow row(*table, cells, faults);
    if (cells_hold(row, columns)) each(row);
  }
  return {};
}

Result<std::string> name_table_text(files::FileSystem& files, const std::string& path) {
  // Far above any list of names; a disk image given by mistake must not fill the memory.
  constexpr std::uint64_t kMostBytes = std::uint64_t{64} << 20U;
  return files.read(path, kMostBytes);
}

}  // namespace ligule::results
