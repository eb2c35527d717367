#include "storage/ledger/fold_log.h"

#include <sqlite3.h>

namespace ligule::ledger {

Result<void> fold_log(Connection& connection, const std::string& path, Fold fold) {
  const int mode = fold == Fold::kEmptied ? SQLITE_CHECKPOINT_TRUNCATE : SQLITE_CHECKPOINT_FULL;
  sqlite3* const database = connection.database().getHandle();
  const int code = sqlite3_wal_checkpoint_v2(database, "main", mode, nullptr, nullptr);
  if (code == SQLITE_BUSY)
    return fail(ErrorKind::kIo, "another program reads the ledger; its log was not folded in", path,
                "close the other program");
  if (code != SQLITE_OK) throw SQLite::Exception(sqlite3_errmsg(database), code);
  return {};
}

}  // namespace ligule::ledger
