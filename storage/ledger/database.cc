#include "storage/ledger/database.h"

#include <sqlite3.h>

#include <cerrno>

#include "storage/ledger/disk_mark.h"
#include "storage/ledger/high_water.h"
#include "storage/ledger/log.h"
#include "storage/ledger/opening.h"
#include "storage/ledger/projections.h"
#include "storage/ledger/schema.h"

namespace ligule::ledger {
namespace {

// What the file says of itself: the stream written last, and which file it was then.
struct ThisFile {
  std::optional<StreamId> stream;
  FileIdentity written;
  bool copied = false;
};

std::optional<ThisFile> this_file(Connection& connection) {
  Query query(connection, "SELECT stream, inode, born, copied FROM this_file");
  if (!query.step()) return std::nullopt;
  ThisFile file{std::nullopt, {query.integer(1), query.integer(2)}, query.integer(3) != 0};
  if (!query.is_null(0)) file.stream = StreamId{query.uuid(0)};
  return file;
}

std::string noted_disk(Connection& connection) {
  Query query(connection, "SELECT mark FROM disk");
  return query.step() ? std::string(query.text(0)) : std::string();
}

}  // namespace

std::unique_ptr<Connection> connection_for_reading(const std::string& path) {
  auto connection = std::make_unique<Connection>(path, SQLITE_OPEN_READONLY);
  try {
    connection->run("SELECT count(*) FROM sqlite_schema");
    return connection;
  } catch (const SQLite::Exception& thrown) {
    const int code = thrown.getErrorCode() & 0xff;
    // Whoever opens a ledger first makes a file of 32 KiB beside it; where there is no room for
    // that, SQLite tells of a failed disk.
    if (code == SQLITE_IOERR && sqlite3_system_errno(connection->database().getHandle()) == ENOSPC)
      throw SQLite::Exception(sqlite3_errstr(SQLITE_FULL), SQLITE_FULL);
    const bool no_place = code == SQLITE_CANTOPEN || code == SQLITE_READONLY;
    if (!no_place || bytes_of_log(path) > 0) throw;
  }
  return std::make_unique<Connection>(path, SQLITE_OPEN_READONLY, /*immutable=*/true);
}

void note_disk(Connection& connection, const std::string& path) {
  const std::string mark = disk_mark_of(path);
  if (mark.empty() || mark == noted_disk(connection)) return;
  Query query(connection, "INSERT OR REPLACE INTO disk(one,mark) VALUES(1,?)");
  query.bind(1, mark);
  query.run();
}

void note_this_file(Connection& connection, const FileIdentity& identity) {
  Query query(connection,
              "INSERT INTO this_file(one,stream,inode,born,copied,projections)"
              " VALUES(1,NULL,?,?,0,?)");
  query.bind(1, identity.inode).bind(2, identity.born).bind(3, kProjectionVersion);
  query.run();
}

Result<void> Store::connect() {
  connection_.reset();
  try {
    auto opened = open_checked();
    if (!opened) connection_.reset();
    return opened;
  } catch (const SQLite::Exception& thrown) {
    connection_.reset();
    return std::unexpected(error_of(thrown, path_));
  }
}

Result<void> Store::make_in_memory() {
  try {
    connection_ = std::make_unique<Connection>(path_, SQLITE_OPEN_READWRITE);
    connection_->run("BEGIN");
    make_schema(*connection_);
    note_this_file(*connection_, {});
    connection_->run("COMMIT");
    return {};
  } catch (const SQLite::Exception& thrown) {
    connection_.reset();
    return std::unexpected(error_of(thrown, path_));
  }
}

Result<void> Store::open_checked() {
  if (const auto identity = identity_of(path_); !identity) return std::unexpected(identity.error());
  // Looked at before anything could write to it: a damaged file stays exactly as it is.
  connection_ = connection_for_reading(path_);
  if (auto sound = check_marks(*connection_, path_); !sound) return sound;
  const bool read_only = access_ == Access::kReadOnly;
  if (auto sound = check_opened(*connection_, path_, !read_only); !sound) return sound;
  if (!read_only) {
    connection_.reset();
    connection_ = std::make_unique<Connection>(path_, SQLITE_OPEN_READWRITE);
    // Where nothing can be written now SQLite opens to read instead, and would stay so.
    if (sqlite3_db_readonly(connection_->database().getHandle(), "main") != 0)
      throw SQLite::Exception(sqlite3_errstr(SQLITE_READONLY), SQLITE_READONLY);
  }
  if (auto set = apply_settings(*connection_, path_, read_only); !set) return set;
  // Before anything else is written, which may be cut off.
  if (!read_only) accept_put_back(*connection_, path_);
  const std::int64_t projections = projection_version(*connection_);
  migrate(*connection_, read_only);
  if (read_only && projections >= 0 && projections != kProjectionVersion) {
    // Made beside the file, for as long as it is open; tables there come before the file's own.
    connection_->run("BEGIN");
    if (auto done = replay_projections(*connection_, "temp", path_); !done) return done;
    connection_->run("COMMIT");
  }
  if (!read_only && projection_version(*connection_) != kProjectionVersion) {
    connection_->run("BEGIN IMMEDIATE");
    if (auto done = replay_projections(*connection_, "main", path_); !done) return done;
    connection_->run("COMMIT");
  }
  if (auto loaded = load_own_stream(*connection_); !loaded || read_only || !mine_) return loaded;
  try {
    note_disk(*connection_, path_);  // a ledger from before did not say it
  } catch (const SQLite::Exception& thrown) {
    // Else what is held can be read all the same, and it is noted another time.
    if (spoils_connection(thrown)) throw;
  }
  return {};
}

Result<void> Store::load_own_stream(Connection& connection) {
  mine_.reset();
  wrote_before_.reset();
  const auto file = this_file(connection);
  if (!file)
    return fail(ErrorKind::kDamaged, "the ledger does not say which file it is", path_,
                "leave it as it is; run ligule-desk ledger-check on it");
  if (!file->stream) return {};
  const StreamId stream = *file->stream;
  wrote_before_ = stream;
  const auto identity = identity_of(path_);
  if (!identity) return std::unexpected(identity.error());
  if (file->copied || file->written != *identity) return {};
  // The note first: who appends meanwhile notes it after the commit, so that the log, which is read
  // after the note, is never behind it for that.
  const std::int64_t noted = high_water(path_, stream);
  if (head_of(connection, stream).seq < noted) return {};
  if (!may_be_same_disk(noted_disk(connection), disk_mark_of(path_))) return {};
  const auto info = stream_info(connection, stream);
  if (!info)
    return fail(ErrorKind::kDamaged, "the ledger's own stream is not in it", path_,
                "leave it as it is; run ligule-desk ledger-check on it");
  mine_ = *info;
  return {};
}

Result<void> Store::ensure_open() {
  if (connection_) return {};
  return connect();
}

Result<void> Store::ensure_writable() {
  if (access_ == Access::kReadOnly)
    return fail(ErrorKind::kRefused, "the ledger is open for reading only", path_,
                "open it for writing");
  return ensure_open();
}

Error Store::after_failure(const SQLite::Exception& thrown) {
  Error error = error_of(thrown, path_);
  if (spoils_connection(thrown)) {
    if (!connect()) return error;  // the next call tries again
  } else if (connection_ && connection_->in_transaction()) {
    connection_->database().tryExec("ROLLBACK");
  }
  return error;
}

}  // namespace ligule::ledger
