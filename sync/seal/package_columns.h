// The columns of the two tables that every season file holds (FORMAT.md 4).
#pragma once

#include <span>

#include "storage/files/columns.h"

namespace ligule::seal {

// The 29 of records.csv, the 9 of stream.csv, in order. Part of the format: names, types,
// descriptions and words never change.
[[nodiscard]] std::span<const files::Column> record_columns();
[[nodiscard]] std::span<const files::Column> stream_columns();

}  // namespace ligule::seal
