// The files a ledger consists of, as files. Never opens one that a connection may hold: closing it
// would drop SQLite's locks (sqlite.org/howtocorrupt.html 2.2). Private to storage/ledger.
#pragma once

#include <string>

#include "storage/trial/error.h"

namespace ligule::ledger {

// Makes an empty file of mode 0600. kConflict when something is there, kNotFound without its
// folder, kIo.
[[nodiscard]] Result<void> make_private_file(const std::string& path);
// kConflict when something is there.
[[nodiscard]] Result<void> check_nothing_at(const std::string& path);
// Removes a database that nobody has open, with the files beside it.
void remove_database(const std::string& path);
// Forces a closed database to the disk and gives it its final name, which must be free; then forces
// the folder. kConflict, kIo.
[[nodiscard]] Result<void> move_into_place(const std::string& from, const std::string& to);

}  // namespace ligule::ledger
