// Table Schemas (Data Package standard 2.0): what each column of a table must hold, written down
// once, in assets/, for the program that checks a table and the person who fills it in.
//
// Read here: name, title, description, type (string, integer, number, boolean, date) and the
// constraints required, unique, minimum, maximum, maxLength, enum and pattern.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/files/csv.h"
#include "storage/files/faults.h"

namespace ligule::files {

enum class FieldType { kString, kInteger, kNumber, kBoolean, kDate };

struct Field {
  std::string name;
  std::string description;
  FieldType type = FieldType::kString;
  bool required = false;
  bool unique = false;
  std::optional<double> minimum, maximum;  // of integers and numbers
  std::optional<std::size_t> max_length;   // in bytes
  std::vector<std::string> allowed;        // enum; empty: any
  std::string pattern;                     // the whole cell must match; empty: any
  std::string mend;                        // how to mend a cell that does not match the pattern
};

struct TableSchema {
  std::vector<Field> fields;
  std::string text;  // the schema file itself, for copying beside a table

  [[nodiscard]] const Field* find(std::string_view name) const;
};

// kInvalid: not JSON, no fields, an unknown type or constraint, a pattern that is no regular
// expression; file is the name put into errors.
[[nodiscard]] Result<TableSchema> parse_table_schema(std::string_view text, std::string_view file);

// Every fault of a table against its schema: unknown, missing and repeated columns, cells that are
// empty where something is required, of the wrong type, out of range, not allowed, or given twice
// where unique. Columns may stand in any order. Blanks around a cell do not count.
[[nodiscard]] Faults table_faults(const Table& table, const TableSchema& schema);

// A cell as table_faults() judges it: without the blanks around it; empty when the table has no
// such column.
[[nodiscard]] std::string cell_text(const Table& table, const CsvRow& row, std::string_view column);

}  // namespace ligule::files
