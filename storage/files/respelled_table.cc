#include "storage/files/respelled_table.h"

#include <algorithm>

#include "storage/files/alike_names.h"
#include "storage/trial/number.h"
#include "storage/trial/record_line.h"

namespace ligule::files {

void RespelledTable::add(std::vector<std::string> cells, std::vector<std::string> places) {
  for (std::string& cell : cells) cell = cleaned(cell);
  rows_.push_back(std::move(cells));
  places_.push_back(std::move(places));
}

// Of "FILE line 3, column c" the place of that cell; a header's faults are the file's.
std::string RespelledTable::place_of(const std::string& where) const {
  constexpr std::string_view kLine = " line ";
  constexpr std::string_view kColumn = ", column ";
  const std::string rest = where.substr(std::min(where.size(), file_.size() + kLine.size()));
  const std::size_t comma = rest.find(kColumn);
  const auto line = static_cast<std::size_t>(parse_integer(rest.substr(0, comma)).value_or(0));
  if (line < 2 || line - 2 >= places_.size() || comma == std::string::npos) return file_;
  const auto column = std::ranges::find(columns_, rest.substr(comma + kColumn.size()));
  if (column == columns_.end()) return file_;
  return places_[line - 2][static_cast<std::size_t>(column - columns_.begin())];
}

Checked<Table> RespelledTable::judged_by(const TableSchema& schema) const {
  auto table = Table::parse(csv_text(columns_, rows_), file_);
  Faults faults = table ? table_faults(*table, schema) : table.error();
  for (Error& fault : faults) fault.where = place_of(fault.where);
  if (!faults.empty()) return std::unexpected(std::move(faults));
  return table;
}

std::string plain_text(std::string_view text) {
  std::string plain;
  for (const std::u32string& word : plain_words(text)) {
    if (!plain.empty()) plain += ' ';
    // What is no ASCII letter is in no list of words that this is compared with.
    for (const char32_t c : word) plain += c < 0x80 ? static_cast<char>(c) : '?';
  }
  return plain;
}

}  // namespace ligule::files
