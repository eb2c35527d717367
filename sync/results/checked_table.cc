#include "sync/results/checked_table.h"

#include <utility>

#include "storage/files/table_schema.h"

namespace ligule::results {

files::Checked<files::Table> checked_table(std::string_view text, const std::string& name,
                                           std::string_view schema) {
  auto table = files::Table::parse(text, name);
  if (!table) return table;
  const auto read = files::parse_table_schema(schema, name);
  if (!read) return std::unexpected(files::Faults{read.error()});
  files::Faults faults = files::table_faults(*table, *read);
  if (!faults.empty()) return std::unexpected(std::move(faults));
  return table;
}

}  // namespace ligule::results
