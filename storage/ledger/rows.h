// Records read back from the log. Private to storage/ledger; throws SQLite::Exception.
#pragma once

#include <cstdint>
#include <string>
#include <string_view>

#include "storage/ledger/connection.h"
#include "storage/ledger/shifts.h"
#include "storage/trial/record.h"

namespace ligule::ledger {

// A body the projections point at, its time as it was written. kDamaged when it can't be read.
[[nodiscard]] Result<Record> record_from(std::string_view body, const std::string& path);
// The same by its row. kDamaged when the row is not there.
[[nodiscard]] Result<Record> record_in_row(Connection& connection, std::int64_t row,
                                           const std::string& path);

// What was put right of clocks: of all records, and of one, which then has the right time.
[[nodiscard]] Shifts shifts_in(Connection& connection);
void put_right(Connection& connection, Record& record);

}  // namespace ligule::ledger
