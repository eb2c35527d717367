// Moving SQLite's write-ahead log into the ledger's file. Private to storage/ledger; throws
// SQLite::Exception.
#pragma once

#include <string>

#include "storage/ledger/connection.h"

namespace ligule::ledger {

enum class Fold {
  kEmptied,  // nothing is left of the log; nobody may be reading
  // All that was committed is written anew and synced; the log stays. Who reads the newest moment
  // may go on, an older one is waited for. There is no lesser way to make good for a sync of the
  // log that failed: a later sync of it says nothing (the system has dropped the pages it could not
  // write), and a commit behind them would stand on a log that may have a hole.
  kWrittenAnew,
};

// kIo where somebody reads for longer than a connection waits (5 s).
[[nodiscard]] Result<void> fold_log(Connection& connection, const std::string& path, Fold fold);

}  // namespace ligule::ledger
