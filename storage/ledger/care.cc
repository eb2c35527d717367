// Looking after the file: the full check, copies, folding in the write-ahead log.
#include <sqlite3.h>

#include "storage/ledger/database.h"
#include "storage/ledger/files_of_ledger.h"
#include "storage/ledger/fold_log.h"
#include "storage/ledger/high_water.h"
#include "storage/ledger/log.h"
#include "storage/ledger/opening.h"
#include "storage/ledger/projections.h"
#include "storage/ledger/schema.h"

namespace ligule::ledger {
namespace {

class Examiner {
 public:
  Examiner(Connection& connection, std::string path)
      : connection_(connection), path_(std::move(path)) {}

  void check_database() {
    Query pages(connection_, "PRAGMA integrity_check(20)");
    while (pages.step()) {
      if (pages.text(0) != "ok") note(std::string(pages.text(0)));
    }
    Query keys(connection_, "PRAGMA foreign_key_check");
    while (keys.step()) note("a row of " + std::string(keys.text(0)) + " belongs to no stream");
  }

  // Every record must be in a run, and every run must be a chain from its first digest on.
  void check_chains() {
    std::int64_t walked = 0;
    for (const Span& span : spans_of(connection_, std::nullopt)) walked += walk(span);
    Query count(connection_, "SELECT count(*) FROM record");
    if (count.step() && count.integer(0) != walked)
      note(std::to_string(count.integer(0) - walked) + " records stand outside every chain");
    Query empty(connection_,
                "SELECT device FROM stream s WHERE NOT EXISTS(SELECT 1 FROM record r WHERE "
                "r.stream=s.id)");
    while (empty.step()) note("a stream of " + std::string(empty.text(0)) + " has no record");
  }

  // Records that were told as kept must be there.
  void check_reach(const std::vector<HighWater>& told) {
    if (!is_of_this_ledger(connection_, told)) return;
    for (const Behind& each : behind(connection_, told)) {
      const std::string stream = each.told.stream.text();
      if (each.held + 1 == each.told.seq)
        note("stream " + stream + ": record " + std::to_string(each.told.seq) +
             " was kept here and is gone");
      else
        note("stream " + stream + ": records " + std::to_string(each.held + 1) + " to " +
             std::to_string(each.told.seq) + " were kept here and are gone");
    }
  }

  void check_projections() {
    if (projection_version(connection_) != kProjectionVersion) return;  // made anew when written to
    const auto replayed = replay_projections(connection_, "temp", path_);
    if (!replayed) {
      note(replayed.error().what);
    } else {
      for (const char* table : {"item", "replaced", "plan", "definition", "shift"}) compare(table);
    }
    drop_projections(connection_, "temp");
  }

  [[nodiscard]] std::vector<Error> findings() && { return std::move(findings_); }

 private:
  void note(std::string what) {
    findings_.push_back({ErrorKind::kDamaged, std::move(what), path_,
                         "leave the file as it is; rebuild a ledger from its season files"});
  }

  std::int64_t walk(const Span& span) {
    Query query(connection_,
                "SELECT seq, body, digest, id, kind, format FROM record"
                " WHERE stream=? AND seq BETWEEN ? AND ? ORDER BY seq");
    query.bind(1, span.stream.uuid).bind(2, span.first).bind(3, span.last);
    Digest digest = span.before;
    std::int64_t expected = span.first;
    const std::string stream = "stream " + span.stream.text();
    for (; query.step(); ++expected) {
      const std::int64_t seq = query.integer(0);
      const std::string here = stream + ", record " + std::to_string(seq);
      if (seq != expected) {
        note(here + ": records before it are missing");
        expected = seq;
        digest = query.digest(2);
        continue;
      }
      digest = chained(digest, query.text(1));
      if (digest != query.digest(2)) {
        note(here + ": its digest does not hold");
        digest = query.digest(2);  // one finding for one break
      }
      const auto envelope = parse_envelope(query.text(1));
      const Envelope row{span.stream,
                         seq,
                         {query.uuid(3)},
                         std::string(query.text(4)),
                         static_cast<int>(query.integer(5))};
      if (!envelope || *envelope != row) note(here + ": its columns differ from its text");
    }
    return expected - span.first;
  }

  void compare(const std::string& table) {
    const std::string kept = "main." + table;
    const std::string fresh = "temp." + table;
    Query query(connection_, "SELECT (SELECT count(*) FROM (SELECT * FROM " + kept +
                                 " EXCEPT SELECT * FROM " + fresh +
                                 "))+(SELECT count(*) FROM (SELECT * FROM " + fresh +
                                 " EXCEPT SELECT * FROM " + kept + "))");
    if (query.step() && query.integer(0) != 0)
      note("the projection " + table + " differs from a replay of the log");
  }

  Connection& connection_;
  std::string path_;
  std::vector<Error> findings_;
};

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
    // One moment of the ledger, whoever writes to it meanwhile.
    Query(connection, "BEGIN").run();
    Examiner examiner(connection, path());
    examiner.check_database();
    examiner.check_chains();
    examiner.check_reach(told);
    examiner.check_projections();
    Query(connection, "COMMIT").run();
    return std::move(examiner).findings();
  });
}

Result<void> Ledger::backup_to(const std::string& path) const {
  const std::string unfinished = path + ".new";
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
