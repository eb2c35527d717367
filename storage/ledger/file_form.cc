#include "storage/ledger/file_form.h"

#include <sqlite3.h>

#include "storage/ledger/connection.h"
#include "storage/ledger/ledger.h"
#include "storage/ledger/schema.h"

namespace ligule::ledger {
namespace {

std::int64_t marked_version(Connection& connection) {
  return connection.database().execAndGet("PRAGMA user_version").getInt64();
}

}  // namespace

Result<FileForm> file_form(const std::string& path) {
  // Whatever keeps it from being read is told as ever.
  if (const auto sound = Ledger::open(path, Access::kReadOnly); !sound)
    return std::unexpected(sound.error());
  try {
    Connection connection(path, SQLITE_OPEN_READONLY);
    FileForm form;
    form.present = kSchemaVersion;
    form.version = marked_version(connection);
    form.records = connection.database().execAndGet("SELECT count(*) FROM record").getInt64();
    return form;
  } catch (const SQLite::Exception& thrown) {
    return std::unexpected(error_of(thrown, path));
  }
}

bool is_older(const std::string& path) {
  try {
    Connection connection(path, SQLITE_OPEN_READONLY);
    return marked_version(connection) < kSchemaVersion;
  } catch (const SQLite::Exception&) {
    return false;
  }
}

files::Path copy_before(const files::Path& ledger, const FileForm& form) {
  return ledger.string() + ".version-" + std::to_string(form.version);
}

Result<void> keep_copy(files::FileSystem& files, const files::Path& ledger, const FileForm& form) {
  const files::Path copy = copy_before(ledger, form);
  const auto there = files.exists(copy);
  if (!there) return std::unexpected(there.error());
  if (*there) return {};
  const auto held = Ledger::open(ledger.string(), Access::kReadOnly);
  if (!held) return std::unexpected(held.error());
  return held->backup_to(copy.string());
}

}  // namespace ligule::ledger
