// The database's tables, its marks and its settings. Private to storage/ledger.
//
// Three parts: the log (never migrated), local facts of this file (what left, what arrived, whom it
// trusts; migrated when kSchemaVersion grows), and projections (dropped and replayed whenever
// kProjectionVersion changes).
#pragma once

#include <string>

#include "storage/ledger/connection.h"
#include "storage/trial/error.h"

namespace ligule::ledger {

// "LIGU": what file(1) and every opener see at offset 68 of the file. Never change it.
inline constexpr std::int64_t kApplicationId = 0x4C494755;
// Of log and local tables. A later one is refused, an earlier one migrated.
//   2: what is believed of a revoked key names stream and digest; branches that were chosen; the
//      disk that the file was written on.
inline constexpr std::int64_t kSchemaVersion = 2;
// Of the projections; a file that holds others is replayed at opening.
inline constexpr std::int64_t kProjectionVersion = 6;

// All of these throw SQLite::Exception when the machine fails.

// Makes every table in an empty database and sets its marks.
void make_schema(Connection& connection);
// The projection tables in a schema ("main", or "temp" to compare with a replay).
void make_projections(Connection& connection, const std::string& schema);
void drop_projections(Connection& connection, const std::string& schema);

// Whether the file is a ledger this program reads: kInvalid, kNewerVersion, kDamaged (tables or
// triggers other than a ledger of its version has). Projections of another version may be any
// tables.
[[nodiscard]] Result<void> check_marks(Connection& connection, const std::string& path);
// Of the projections in the file.
[[nodiscard]] std::int64_t projection_version(Connection& connection);
// Brings the local tables of an earlier version to this one's, in one transaction; log and digest
// stay as they are. Read only, what is new is made beside the file, for as long as it is open.
void migrate(Connection& connection, bool read_only);
// Check of all pages, thorough with their indexes. kDamaged.
[[nodiscard]] Result<void> check_pages(Connection& connection, const std::string& path,
                                       bool thorough);

// Settings every connection needs, each read back. kIo names one that the machine does not take.
[[nodiscard]] Result<void> apply_settings(Connection& connection, const std::string& path,
                                          bool read_only);

}  // namespace ligule::ledger
