// What is looked at before a ledger is opened: a damaged one must not be written to. Private to
// storage/ledger; throws SQLite::Exception.
#pragma once

#include <cstdint>
#include <string>

#include "storage/ledger/connection.h"
#include "storage/trial/error.h"

namespace ligule::ledger {

// 0 where there is none.
[[nodiscard]] std::uint64_t bytes_of_file(const std::string& path);

// Pages, that nothing that was told as kept is missing from the log beside the file, and what is
// said of streams; to write also indexes and the newest records' chains, as far as that takes no
// noticeable time: the whole of it is Ledger::check(). kDamaged.
[[nodiscard]] Result<void> check_opened(Connection& connection, const std::string& path,
                                        bool to_write);

}  // namespace ligule::ledger
