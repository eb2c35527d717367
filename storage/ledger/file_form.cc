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

// Whether both can be read and hold the same records.
bool hold_the_same(const files::Path& one, const files::Path& other) {
  const auto digest = [](const files::Path& path) -> Result<Digest> {
    const auto held = Ledger::open(path.string(), Access::kReadOnly);
    if (!held) return std::unexpected(held.error());
    return held->digest();
  };
  const auto first = digest(one);
  const auto second = digest(other);
  return first && second && *first == *second;
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

Result<files::Path> copy_before(files::FileSystem& files, const files::Path& ledger,
                                const FileForm& form) {
  const std::string name = ledger.string() + ".version-" + std::to_string(form.version);
  files::Path copy = name;
  for (int n = 2;; ++n) {
    const auto there = files.exists(copy);
    if (!there) return std::unexpected(there.error());
    if (!*there || hold_the_same(ledger, copy)) return copy;
    copy = name + "-" + std::to_string(n);
  }
}

Result<void> keep_copy(files::FileSystem& files, const files::Path& ledger,
                       const files::Path& copy) {
  const auto there = files.exists(copy);
  if (!there) return std::unexpected(there.error());
  if (*there) return {};
  const auto held = Ledger::open(ledger.string(), Access::kReadOnly);
  if (!held) return std::unexpected(held.error());
  return held->backup_to(copy.string());
}

}  // namespace ligule::ledger
