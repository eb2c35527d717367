// Looking after the file: the full check, copies, folding in the write-ahead log.
#include <sqlite3.h>

#include <future>
#include <optional>
#include <utility>

#include "storage/ledger/database.h"
#include "storage/ledger/files_of_ledger.h"
#include "storage/ledger/high_water.h"
#include "storage/ledger/log.h"
#include "storage/ledger/opening.h"
#include "storage/ledger/projection_check.h"
#include "storage/ledger/projections.h"
#include "storage/ledger/schema.h"

namespace ligule::ledger {
namespace {

// A file from this size on is looked at by two threads: what SQLite says of its pages takes as long
// as what we say of its records.
constexpr std::uint64_t kLargeFile = std::uint64_t{16} << 20U;

// Pages, indexes, and rows that belong together.
std::vector<std::string> database_faults(Connection& connection) {
  std::vector<std::string> faults;
  Query pages(connection, "PRAGMA integrity_check(20)");
  while (pages.step()) {
    if (pages.text(0) != "ok") faults.emplace_back(pages.text(0));
  }
  Query keys(connection, "PRAGMA foreign_key_check");
  while (keys.step())
    faults.push_back("a row of " + std::string(keys.text(0)) + " belongs to no stream");
  return faults;
}

class Examiner {
 public:
  Examiner(Connection& connection, std::string path)
      : connection_(connection), path_(std::move(path)) {}

  void note_all(std::vector<std::string> faults) {
    for (std::string& fault : faults) note(std::move(fault));
  }

  // Every record must be in a run, and every run must be a chain from its first digest on; what the
  // projections say of a record is looked at on the way, so that each is read once.
  void check_records() {
    std::optional<ProjectionCheck> projections;
    // Else they are made anew when the ledger is next written to.
    if (projection_version(connection_) == kProjectionVersion) projections.emplace(connection_);
    std::int64_t walked = 0;
    for (const Span& span : spans_of(connection_, std::nullopt))
      walked += walk(span, projections ? &*projections : nullptr);
    Query count(connection_, "SELECT count(*) FROM record");
    const std::int64_t records = count.step() ? count.integer(0) : walked;
    if (records != walked)
      note(std::to_string(records - walked) + " records stand outside every chain");
    Query empty(connection_,
                "SELECT device FROM stream s WHERE NOT EXISTS(SELECT 1 FROM record r WHERE "
                "r.stream=s.id)");
    while (empty.step()) note("a stream of " + std::string(empty.text(0)) + " has no record");
    // Where records can't be read or reached the projections can't be told from the log.
    if (!projections || !readable_ || records != walked) return;
    for (const std::string& table : projections->differing())
      note("the projection " + table + " differs from a replay of the log");
  }

  // Records that were told as kept must be there.
  void check_reach() {
    Query query(connection_, "SELECT stream FROM this_file WHERE stream IS NOT NULL");
    if (!query.step()) return;
    const StreamId stream{query.uuid(0)};
    const std::int64_t told = high_water(path_, stream);
    if (const std::int64_t held = head_of(connection_, stream).seq; held < told)
      note("stream " + stream.text() + ": records " + std::to_string(held + 1) + " to " +
           std::to_string(told) + " were kept here and are gone");
  }

  [[nodiscard]] std::vector<Error> findings() && { return std::move(findings_); }

 private:
  void note(std::string what) {
    findings_.push_back({ErrorKind::kDamaged, std::move(what), path_,
                         "leave the file as it is; rebuild a ledger from its season files"});
  }

  // How many records were walked.
  std::int64_t walk(const Span& span, ProjectionCheck* projections) {
    const std::string of_item =
        projections == nullptr ? std::string() : std::string(",") + ProjectionCheck::kColumns;
    const std::string from = projections == nullptr
                                 ? " FROM record r"
                                 : " FROM record r LEFT JOIN main.item i ON i.row=r.row";
    Query query(connection_, "SELECT r.seq,r.body,r.digest,r.id,r.kind,r.format,r.row" + of_item +
                                 from +
                                 " WHERE r.stream=? AND r.seq BETWEEN ? AND ? ORDER BY r.seq");
    query.bind(1, span.stream.uuid).bind(2, span.first).bind(3, span.last);
    Digest digest = span.before;
    std::int64_t expected = span.first, walked = 0;
    for (; query.step(); ++expected, ++walked) {
      const std::int64_t seq = query.integer(0);
      if (seq != expected) {
        note(place(span, seq) + ": records before it are missing");
        expected = seq;
      } else if (chained(digest, query.text(1)) != query.digest(2)) {
        note(place(span, seq) + ": its digest does not hold");
      }
      digest = query.digest(2);  // one finding for one break
      look(span, query, projections);
    }
    return walked;
  }

  // A record by itself: its columns, and what the projections say of it.
  void look(const Span& span, const Query& query, ProjectionCheck* projections) {
    const auto cells = LineCells::of(query.text(1));
    const auto envelope = cells ? parse_envelope(*cells) : std::unexpected(cells.error());
    if (!envelope && std::exchange(readable_, false))
      note("record in row " + std::to_string(query.integer(6)) + " can't be read");
    const bool same = envelope && envelope->stream == span.stream &&
                      envelope->seq == query.integer(0) && envelope->id.uuid == query.uuid(3) &&
                      envelope->kind == query.text(4) && envelope->format == query.integer(5);
    if (!same) note(place(span, query.integer(0)) + ": its columns differ from its text");
    if (projections == nullptr || !envelope) return;
    const auto record = parse_record(*cells);
    projections->look(query.integer(6), record ? &*record : nullptr, query, 7);
  }

  [[nodiscard]] static std::string place(const Span& span, std::int64_t seq) {
    const std::string stream = "stream " + span.stream.text();
    return stream + ", record " + std::to_string(seq);
  }

  Connection& connection_;
  std::string path_;
  bool readable_ = true;  // every record so far
  std::vector<Error> findings_;
};

Result<void> fold_log(Connection& connection, const std::string& path) {
  int frames = 0;
  int folded = 0;
  const int code = sqlite3_wal_checkpoint_v2(connection.database().getHandle(), "main",
                                             SQLITE_CHECKPOINT_TRUNCATE, &frames, &folded);
  if (code == SQLITE_BUSY)
    return fail(ErrorKind::kIo, "another program reads the ledger; its log was not folded in", path,
                "close the other program");
  if (code != SQLITE_OK)
    throw SQLite::Exception(sqlite3_errmsg(connection.database().getHandle()), code);
  return {};
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
    if (auto folded = fold_log(copy, unfinished); !folded) return folded;
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
    // Begun before anything else, and by a connection of its own, which may see a moment of its
    // own.
    std::future<std::vector<std::string>> meanwhile;
    if (bytes_of_file(path()) >= kLargeFile) {
      meanwhile = std::async(std::launch::async, [&path = path()] {
        return database_faults(*connection_for_reading(path));
      });
    }
    // One moment of the ledger, whoever writes to it meanwhile.
    Query(connection, "BEGIN").run();
    Examiner examiner(connection, path());
    if (!meanwhile.valid()) examiner.note_all(database_faults(connection));
    examiner.check_records();
    examiner.check_reach();
    Query(connection, "COMMIT").run();
    if (meanwhile.valid()) examiner.note_all(meanwhile.get());
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
  return database_->read([&](Connection& connection) { return fold_log(connection, path()); });
}

}  // namespace ligule::ledger
