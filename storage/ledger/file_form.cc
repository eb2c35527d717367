#include "storage/ledger/file_form.h"

#include <sqlite3.h>

#include "storage/ledger/connection.h"
#include "storage/ledger/file_identity.h"
#include "storage/ledger/ledger.h"
#include "storage/ledger/schema.h"

namespace ligule::ledger {
namespace {

Result<std::int64_t> version_of_file(const std::string& path) {
  if (const auto there = identity_of(path); !there) return std::unexpected(there.error());
  try {
    Connection connection(path, SQLITE_OPEN_READONLY);
    if (const auto marks = check_marks(connection, path); !marks)
      return std::unexpected(marks.error());
    return connection.database().execAndGet("PRAGMA user_version").getInt64();
  } catch (const SQLite::Exception& thrown) {
    return std::unexpected(error_of(thrown, path));
  }
}

}  // namespace

Result<FileForm> file_form(const std::string& path) {
  const auto version = version_of_file(path);
  if (!version) return std::unexpected(version.error());
  FileForm form{*version, kSchemaVersion, 0};
  // Every start asks, and mostly that is the answer: the pages are looked at where it is opened.
  if (!form.older()) return form;
  const auto sound = Ledger::open(path, Access::kReadOnly);
  if (!sound) return std::unexpected(sound.error());
  try {
    Connection connection(path, SQLITE_OPEN_READONLY);
    form.records = connection.database().execAndGet("SELECT count(*) FROM record").getInt64();
    return form;
  } catch (const SQLite::Exception& thrown) {
    return std::unexpected(error_of(thrown, path));
  }
}

}  // namespace ligule::ledger
