// Table Schemas (Data Package standard, version 2.0): what each column of a table must hold,
// written down once, in assets/, for the program that checks a table and the person who fills it
// in.
//
// Read here, of each field: name, description, type (string, integer, number, boolean, date) and
// the constraints required, unique, minimum, maximum, maxLength, enum, pattern. Anything else that
// would narrow a cell is refused rather than passed over.
#pragma once

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
  std::optional<std::size_t> max_length;   // of strings, in bytes
  std::vector<std::string> allowed;        // enum; empty: any
  std::string pattern;                     // the whole cell must match; empty: any
};

struct TableSchema {
  std::vector<Field> fields;
  std::string text;  // the schema file itself, for copying beside a table

  [[nodiscard]] const Field* find(std::string_view name) const;
};

// kInvalid: not JSON, no fields, a field without name or description, an unknown type or
// constraint, a pattern that is no regular expression. file is the name put into errors.
[[nodiscard]] Result<TableSchema> parse_table_schema(std::string_view text, std::string_view file);

// Every fault of a table's columns and cells against its schema: columns that are unknown, required
// columns that are missing, cells that are empty where something is required, of the wrong type,
// out of range, too long, not allowed, not matching. Columns may stand in any order; those not
// required may be left out. Blanks around a cell do not count. That a cell stands twice where the
// schema says unique is left to the caller, who knows what it means (plan_check.h).
[[nodiscard]] Faults table_faults(const Table& table, const TableSchema& schema);

// A cell without the blanks around it; empty when the table has no such column.
[[nodiscard]] std::string cell_text(const Table& table, const CsvRow& row, std::string_view column);

// A cell of type boolean as the standard reads it: true, True, TRUE, 1 and false, False, FALSE, 0.
[[nodiscard]] Result<bool> parse_boolean(std::string_view text);

}  // namespace ligule::files
