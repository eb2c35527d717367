// The files a ledger consists of, as files. Never opens one that a connection may hold: closing it
// would drop SQLite's locks (sqlite.org/howtocorrupt.html 2.2). Private to storage/ledger.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "storage/trial/error.h"

namespace ligule::ledger {

// In place of a path: the ledger stands in no file.
inline constexpr std::string_view kInMemory = ":memory:";

// Behind the name of a ledger while it is made. What a cut left there is removed by the next that
// makes it: no name that somebody gives a ledger of their own.
inline constexpr std::string_view kUnfinished = ".unfinished";

// The name of a file beside a ledger: SQLite puts its own beside the file that a link leads to, and
// whoever comes by a link must find the same.
[[nodiscard]] std::string beside(const std::string& ledger_path, std::string_view suffix);
// A small file of ours there, open to read and write, and made (0600) where there is none; below 0,
// and errno, where it can't be had. Never by a link, which would have another file written over.
[[nodiscard]] int open_beside(const std::string& ledger_path, std::string_view suffix);
// Makes an empty file of mode 0600. kConflict when something is there, kNotFound without its
// folder, kIo.
[[nodiscard]] Result<void> make_private_file(const std::string& path);
// kConflict when something is there.
[[nodiscard]] Result<void> check_nothing_at(const std::string& path);
// Removes a database that nobody has open, with the files beside it.
void remove_database(const std::string& path);
// Whether a closed file reads back from the disk as it does from memory. `forget` makes the machine
// drop what it holds of the file; tests put a worn card there. kDamaged: it does not; kIo.
[[nodiscard]] Result<void> read_back(const std::string& path,
                                     const std::function<void(const std::string&)>& forget);
void forget_cached(const std::string& path);
// Forces a closed database to the disk and gives it its final name, which must be free; then forces
// the folder. kConflict, kIo.
[[nodiscard]] Result<void> move_into_place(const std::string& from, const std::string& to);

}  // namespace ligule::ledger
