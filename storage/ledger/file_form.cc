#include "storage/ledger/file_form.h"

#include <sqlite3.h>

#include "storage/ledger/connection.h"
#include "storage/ledger/ledger.h"
#include "storage/ledger/schema.h"

namespace ligule::ledger {

Result<FileForm> file_form(const std::string& path) {
  // Whatever keeps it from being read is told as ever.
  if (const auto sound = Ledger::open(path, Access::kReadOnly); !sound)
    return std::unexpected(sound.error());
  try {
    Connection connection(path, SQLITE_OPEN_READONLY);
    FileForm form;
    form.present = kSchemaVersion;
    form.version = connection.database().execAndGet("PRAGMA user_version").getInt64();
    form.records = connection.database().execAndGet("SELECT count(*) FROM record").getInt64();
    return form;
  } catch (const SQLite::Exception& thrown) {
    return std::unexpected(error_of(thrown, path));
  }
}

}  // namespace ligule::ledger
