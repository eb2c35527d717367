#include "storage/files/occasion_list.h"

#include <optional>

#include "storage/files/plan_rows.h"
#include "storage/files/respelled_table.h"
#include "storage/files/table_row.h"

namespace ligule::files {
namespace {

// Ten years: what is further away is a slip of the finger.
constexpr std::int64_t kMostDays = 3660;

// The date of "+21"; nothing where it is written otherwise.
std::optional<CalendarDate> days_after(CalendarDate sown, std::string_view due) {
  if (!due.starts_with('+') || !sown.ok()) return std::nullopt;
  const auto days = parse_integer(without_blanks(due.substr(1)));
  if (!days || *days > kMostDays) return std::nullopt;
  return CalendarDate(date::sys_days(sown) + date::days(*days));
}

}  // namespace

Checked<OccasionList> read_occasion_list(std::string_view text, const std::string& file,
                                         const TableSchema& schema, CalendarDate sown) {
  const auto written = Table::parse(text, file);
  if (!written) return std::unexpected(written.error());
  std::vector<std::string> columns = written->columns();
  if (!written->find_column("year")) columns.emplace_back("year");
  RespelledTable respelled(file, columns);
  OccasionList list;
  for (const CsvRow& row : written->rows()) {
    const std::string due = cell_text(*written, row, "due");
    const auto later = days_after(sown, due);
    const auto day = later ? Result<CalendarDate>(*later) : parse_date(due);
    std::vector<std::string> cells, places;
    for (const std::string& column : columns) {
      std::string cell = cell_text(*written, row, column);
      if (column == "due" && later) cell = format_date(*later);
      if (column == "year" && cell.empty() && day)
        cell = std::to_string(static_cast<int>(day->year()));
      cells.push_back(std::move(cell));
      places.push_back(written->place(row, column));
    }
    respelled.add(std::move(cells), std::move(places));
    list.places.push_back(written->place(row));
  }
  const auto table = respelled.judged_by(schema);
  if (!table) return std::unexpected(table.error());
  list.occasions.reserve(table->rows().size());
  for (const CsvRow& row : table->rows())
    list.occasions.push_back(read_occasion(TableRow(*table, row)));
  return list;
}

}  // namespace ligule::files
