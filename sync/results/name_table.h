// A table about names that people write beside their results: aliases.csv, varieties.csv.
//
// UTF-8, commas, a header row, columns in any order; blanks around a cell do not count. An unknown
// column is a fault, since a misspelled one would else be left out silently.
#pragma once

#include <functional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/csv.h"
#include "storage/files/file_system.h"
#include "storage/trial/error.h"

namespace ligule::results {

struct NameColumn {
  std::string_view name;
  bool required = false;  // the column itself, and something in every cell of it
};

// One row, and where a fault about it is put.
class NameRow {
 public:
  NameRow(const files::Table& table, const files::CsvRow& row, std::vector<Error>& faults)
      : table_(table), row_(row), faults_(faults) {}

  // Blanks around it left away; empty where the table has no such column.
  [[nodiscard]] std::string text(std::string_view column) const;
  [[nodiscard]] std::string place() const { return table_.place(row_); }
  // "yes" is true, nothing is false, anything else a fault.
  [[nodiscard]] bool yes(std::string_view column);
  void fault(std::string_view column, std::string what, std::string mend);
  [[nodiscard]] std::size_t faults() const { return faults_.size(); }

 private:
  const files::Table& table_;
  const files::CsvRow& row_;
  std::vector<Error>& faults_;
};

// Calls `each` for every row whose required cells hold something and whose cells keep to one line;
// what is wrong elsewhere comes into `faults`, by line. An error: this is no text at all.
[[nodiscard]] Result<void> read_name_table(std::string_view text, const std::string& file,
                                           std::span<const NameColumn> columns,
                                           std::vector<Error>& faults,
                                           const std::function<void(NameRow&)>& each);

// The bytes of such a file. Errors: kNotFound, kIo; kInvalid above 64 MiB.
[[nodiscard]] Result<std::string> name_table_text(files::FileSystem& files,
                                                  const std::string& path);

}  // namespace ligule::results
