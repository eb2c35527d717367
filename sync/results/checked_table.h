// Small tables that people write for the desk, held to a schema that stands beside their reader.
#pragma once

#include <string>
#include <string_view>

#include "storage/files/csv.h"
#include "storage/files/faults.h"

namespace ligule::results {

// The table, or every fault of its columns and cells; `schema` is a Table Schema
// (storage/files/table_schema.h), `name` the file's in the places of the faults.
[[nodiscard]] files::Checked<files::Table> checked_table(std::string_view text,
                                                         const std::string& name,
                                                         std::string_view schema);

}  // namespace ligule::results
