// A table in the program's columns made of one that people wrote in their own words, so that one
// schema judges both. Used by the readers of this room; not for other rooms.
#pragma once

#include <string>
#include <vector>

#include "storage/files/csv.h"
#include "storage/files/table_schema.h"

namespace ligule::files {

class RespelledTable {
 public:
  // file: the name put into errors, that of the people's table.
  RespelledTable(std::string file, std::vector<std::string> columns)
      : file_(std::move(file)), columns_(std::move(columns)) {}

  // A row, as many cells as columns and at least one not blank, and where each of them stands in
  // the people's table ("list.csv line 4, column Lot"). Control characters become blanks.
  void add(std::vector<std::string> cells, std::vector<std::string> places);

  // As a table whose rows are those that were added, in their order; or every fault by the schema,
  // at its place in the people's table.
  [[nodiscard]] Checked<Table> judged_by(const TableSchema& schema) const;

 private:
  [[nodiscard]] std::string place_of(const std::string& where) const;

  std::string file_;
  std::vector<std::string> columns_;
  std::vector<std::vector<std::string>> rows_, places_;
};

// Its words in small letters without accents and signs, one blank between them: "Seed-lot No." is
// "seed lot no".
[[nodiscard]] std::string plain_text(std::string_view text);

}  // namespace ligule::files
