// The tables of an archive, in the schema `ligule` of a PostgreSQL database.
#pragma once

#include "storage/ledger/ledger.h"
#include "sync/archive/connection.h"

namespace ligule::archive {

inline constexpr int kSchemaVersion = 1;

// Makes the tables where the database has none (kReadWrite) and reads their version. kNotFound for
// a database without an archive that is only read; kNewerVersion; kInvalid for a schema of that
// name which is no archive; kIo.
[[nodiscard]] Result<void> ensure_schema(Connection& connection, ledger::Access access);

}  // namespace ligule::archive
