// Records read back from the log. Private to storage/ledger; throws SQLite::Exception.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "storage/ledger/connection.h"
#include "storage/trial/record.h"

namespace ligule::ledger {

// A body the projections point at. kDamaged when it can't be read.
[[nodiscard]] Result<Record> record_from(std::string_view body, const std::string& path);
// kDamaged when the row is not there.
[[nodiscard]] Result<Record> record_in_row(Connection& connection, std::int64_t row,
                                           const std::string& path);

}  // namespace ligule::ledger
