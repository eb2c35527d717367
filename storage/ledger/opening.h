// What is looked at before a ledger is opened: a damaged one must not be written to. Private to
// storage/ledger; throws SQLite::Exception.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "storage/ledger/connection.h"
#include "storage/ledger/high_water.h"
#include "storage/trial/error.h"

namespace ligule::ledger {

// 0 where there is none.
[[nodiscard]] std::uint64_t bytes_of_file(const std::string& path);

// The bytes of its write-ahead log.
[[nodiscard]] std::uint64_t bytes_of_log(const std::string& path);

// A stream of which more was kept, by the note, than the ledger holds.
struct Behind {
  HighWater told;
  std::int64_t held = 0;
  bool own = false;  // the stream that the file wrote last
};
// `told` is the note, read before any query holds a moment of the ledger: who appends meanwhile
// notes it after the commit. Streams that the file wrote before its last are left out: it went on
// with another one because it was put back from a copy, or their key was lost.
[[nodiscard]] std::vector<Behind> behind(Connection& connection,
                                         const std::vector<HighWater>& told);
// False where the note knows none of the ledger's streams: it was another ledger's of that name.
[[nodiscard]] bool is_of_this_ledger(Connection& connection, const std::vector<HighWater>& told);
// Of a file that was put back without a log the records after it are gone, and that is no damage:
// what it holds is noted as it is now, before a log of its own begins, which the older note would
// call damaged. What lacks records of its own stream is marked as a copy first.
void accept_put_back(Connection& connection, const std::string& path);

// Pages, that nothing that was told as kept is missing from the log beside the file, and what is
// said of streams; to write also all that Ledger::check() looks at in a file of up to 16 MB, and
// the chains of the newest 10,000 records in a larger one, which would take seconds. kDamaged.
[[nodiscard]] Result<void> check_opened(Connection& connection, const std::string& path,
                                        bool to_write);

}  // namespace ligule::ledger
