// What --archive does: the archive of a network of stations in PostgreSQL (sync/archive).
//
// The desk is built with or without PostgreSQL's library: archive_commands.cc or archive_none.cc.
#pragma once

#include <string>

#include "sync/desk/command.h"
#include "sync/desk/ledger_tables.h"

namespace ligule::desk {

[[nodiscard]] Option archive_option(std::string help);

// gather --archive: the season files into the archive. The ledger says whose keys are trusted, and
// is not changed.
[[nodiscard]] Exit gather_into_archive(const Arguments& arguments, Console& console);

// tables --archive: the archive's records drawn into a ledger of the moment, and its tables.
[[nodiscard]] Exit tables_of_archive(const std::string& url, const TablesWanted& wanted,
                                     Console& console);

}  // namespace ligule::desk
