// One row of a table by the names of its columns.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>

#include "storage/files/csv.h"
#include "storage/files/table_schema.h"
#include "storage/trial/calendar.h"
#include "storage/trial/number.h"

namespace ligule::files {

// A cell that could not be read gives the type's empty value, since its own fault has told of it
// already (table_faults).
class TableRow {
 public:
  TableRow(const Table& table, const CsvRow& row) : table_(table), row_(row) {}

  [[nodiscard]] std::string text(std::string_view column) const {
    return cell_text(table_, row_, column);
  }
  [[nodiscard]] int integer(std::string_view column) const {
    const auto value = parse_integer(text(column)).value_or(0);
    return std::in_range<int>(value) ? static_cast<int>(value) : 0;
  }
  [[nodiscard]] std::optional<CalendarDate> date(std::string_view column) const {
    const auto date = parse_date(text(column));
    return date ? std::optional(*date) : std::nullopt;
  }
  template <class T>
  [[nodiscard]] T named(std::string_view column, Result<T> (*parse)(std::string_view),
                        T when_empty) const {
    return parse(text(column)).value_or(when_empty);
  }
  // A number in one spelling (20, not 20.0), because saving from a spreadsheet respells it; what is
  // no number as it was typed.
  [[nodiscard]] std::string number(std::string_view column) const {
    const std::string as_typed = text(column);
    const auto number = parse_number(as_typed);
    return number ? format_number(*number) : as_typed;
  }
  // A size and its unit, which stands in a column of its own.
  template <class Stated>
  [[nodiscard]] Stated stated(const std::string& column) const {
    return {number(column), text(column + "_unit")};
  }
  [[nodiscard]] std::string place() const { return table_.place(row_); }

 private:
  const Table& table_;
  const CsvRow& row_;
};

}  // namespace ligule::files
