// What is looked at before a ledger is opened: a damaged one must not be written to. Private to
// storage/ledger; throws SQLite::Exception.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "storage/ledger/connection.h"
#include "storage/trial/error.h"
#include "storage/trial/identity.h"

namespace ligule::ledger {

// 0 where there is none.
[[nodiscard]] std::uint64_t bytes_of_file(const std::string& path);

// Pages, and that nothing that was told as kept is missing from the log beside the file; to write
// also indexes, the newest records' chains and what is said of their streams, as far as that takes
// no noticeable time: the whole of it is Ledger::check(). kDamaged.
[[nodiscard]] Result<void> check_opened(Connection& connection, const std::string& path,
                                        bool to_write);

// What the ledger says of each stream is what the stream's first record says, where that is held.
// The streams of which it is not.
[[nodiscard]] std::vector<StreamId> streams_told_otherwise(Connection& connection);

}  // namespace ligule::ledger
