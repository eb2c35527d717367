// Looking after the file: the full check, copies, folding in the write-ahead log.
#include <sqlite3.h>

#include <algorithm>
#include <future>
#include <iterator>
#include <utility>

#include "storage/ledger/database.h"
#include "storage/ledger/examiner.h"
#include "storage/ledger/files_of_ledger.h"
#include "storage/ledger/fold_log.h"
#include "storage/ledger/high_water.h"
#include "storage/ledger/log.h"
#include "storage/ledger/opening.h"
#include "storage/ledger/projections.h"
#include "storage/ledger/schema.h"

namespace ligule::ledger {
namespace {

// A file from this size on is looked at by two threads: what SQLite says of its pages takes as long
// as what we say of its records.
constexpr std::uint64_t kLargeFile = std::uint64_t{16} << 20U;

// Pages, indexes, and rows that belong together.
std::vector<std::string> database_faults(Connection& connection) {
  std::vector<std::string> faults = page_faults(connection);
  std::ranges::move(key_faults(connection), std::back_inserter(faults));
  return faults;
}

// told: records that must be there.
std::vector<Error> findings_of(Connection& connection, const std::string& path,
                               const std::vector<HighWater>& told) {
  // Begun before anything else, and by a connection of its own, which may see a moment of its own.
  std::future<std::vector<std::string>> meanwhile;
  if (bytes_of_file(path) >= kLargeFile) {
    // Afterwards where no thread can be had.
    meanwhile = std::async(std::launch::async | std::launch::deferred,
                           [&path] { return database_faults(*connection_for_reading(path)); });
  }
  // One moment of the ledger, whoever writes to it meanwhile.
  Query(connection, "BEGIN").run();
  Examiner examiner(connection, path);
  if (!meanwhile.valid()) examiner.note_all(database_faults(connection));
  examiner.check_records();
  examiner.check_reach(told);
  Query(connection, "COMMIT").run();
  if (meanwhile.valid()) examiner.note_all(meanwhile.get());
  return std::move(examiner).findings();
}

void copy_pages(Connection& from, Connection& to) {
  sqlite3* target = to.database().getHandle();
  sqlite3_backup* backup = sqlite3_backup_init(target, "main", from.database().getHandle(), "main");
  if (backup == nullptr)
    throw SQLite::Exception(sqlite3_errmsg(target), sqlite3_extended_errcode(target));
  sqlite3_backup_step(backup, -1);
  if (const int code = sqlite3_backup_finish(backup); code != SQLITE_OK)
    throw SQLite::Exception(sqlite3_errmsg(target), code);
}

std::unexpected<Error> differs(const std::string& path) {
  return fail(ErrorKind::kDamaged, "the copy differs from the ledger", path,
              "copy to another disk");
}

// The pages to an unfinished file, as a copy that needs nothing beside it. Errors name `path`.
Result<void> copy_to(Connection& from, const std::string& unfinished, const std::string& path) {
  try {
    Connection copy(unfinished, SQLITE_OPEN_READWRITE);
    copy_pages(from, copy);
    copy.run("UPDATE this_file SET copied=1");
    if (auto folded = fold_log(copy, unfinished, Fold::kEmptied); !folded) return folded;
    // Without a log beside it a copy can be read from where nothing can be written.
    copy.run("PRAGMA journal_mode=DELETE");
    return {};
  } catch (const SQLite::Exception& thrown) {
    // The copy's disk failed, not the ledger's own.
    Error error = error_of(thrown, path);
    if (error.kind == ErrorKind::kDamaged) return differs(path);
    return std::unexpected(std::move(error));
  }
}

// Only a copy that opens and holds the same records is one.
Result<void> holds(const std::string& path, const Digest& digest) {
  const auto copy = Ledger::open(path, Access::kReadOnly);
  const auto theirs = copy ? copy->digest() : std::unexpected(copy.error());
  if (!theirs && theirs.error().kind == ErrorKind::kIo) return std::unexpected(theirs.error());
  if (!theirs || *theirs != digest) return differs(path);
  return {};
}

}  // namespace

Result<void> Ledger::replay() {
  return database_->write(
      [&](Connection& connection) { return replay_projections(connection, "main", path()); });
}

Result<std::vector<Error>> Ledger::check() const {
  return database_->read([&](Connection& connection) -> Result<std::vector<Error>> {
    const std::vector<HighWater> told = high_waters(path());
    return findings_of(connection, path(), told);
  });
}

Result<void> Ledger::check_what_is_held() const {
  return database_->read([&](Connection& connection) -> Result<void> {
    std::vector<Error> findings = findings_of(connection, path(), {});
    if (findings.empty()) return {};
    return std::unexpected(std::move(findings.front()));
  });
}

Result<void> Ledger::backup_to(const std::string& path) const {
  const std::string unfinished = std::string(path).append(kUnfinished);
  if (auto free = check_nothing_at(path); !free) return free;
  remove_database(unfinished);
  if (auto made = make_private_file(unfinished); !made) return made;
  Digest held;
  auto copied = database_->read([&](Connection& connection) -> Result<void> {
    // One moment of the ledger, whoever writes to it meanwhile.
    Query(connection, "BEGIN").run();
    held = digest_of_spans(spans_of(connection, std::nullopt));
    auto made = copy_to(connection, unfinished, path);
    Query(connection, "COMMIT").run();
    return made;
  });
  if (copied) copied = read_back(unfinished, forget_cached);
  if (copied) copied = holds(unfinished, held);
  if (copied) copied = move_into_place(unfinished, path);
  remove_database(unfinished);  // or what SQLite could not remove beside it
  return copied;
}

Result<void> Ledger::checkpoint() {
  return database_->read(
      [&](Connection& connection) { return fold_log(connection, path(), Fold::kEmptied); });
}

}  // namespace ligule::ledger
