#include "storage/files/plan_lists.h"

#include <utility>

#include "storage/files/csv.h"
#include "storage/files/plan_rows.h"
#include "storage/files/table_row.h"

namespace ligule::files {
namespace {

template <class Item>
Checked<PlanList<Item>> read_plan_list(std::string_view text, const std::string& file,
                                       const TableSchema& schema, Item (*read)(const TableRow&)) {
  const auto table = Table::parse(text, file);
  if (!table) return std::unexpected(table.error());
  if (Faults faults = table_faults(*table, schema); !faults.empty())
    return std::unexpected(std::move(faults));
  PlanList<Item> list;
  list.items.reserve(table->rows().size());
  list.places.reserve(table->rows().size());
  for (const CsvRow& cells : table->rows()) {
    const TableRow row(*table, cells);
    list.items.push_back(read(row));
    list.places.push_back(row.place());
  }
  return list;
}

}  // namespace

Checked<PlanList<Scale>> read_score_list(std::string_view text, const std::string& file,
                                         const TableSchema& schema) {
  return read_plan_list(text, file, schema, read_score);
}

Checked<PlanList<SoilTest>> read_soil_list(std::string_view text, const std::string& file,
                                           const TableSchema& schema) {
  return read_plan_list(text, file, schema, read_soil);
}

}  // namespace ligule::files
