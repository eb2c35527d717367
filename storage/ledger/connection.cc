#include "storage/ledger/connection.h"

#include <sqlite3.h>

#include <algorithm>
#include <cstring>

#include "storage/trial/record_line.h"

namespace ligule::ledger {
namespace {

constexpr int kBusyMilliseconds = 5000;

// The URI form of a path (sqlite.org/uri.html): '%', '?' and '#' have a meaning there.
std::string immutable_uri(const std::string& path) {
  std::string uri = "file:";
  for (const char c : path) {
    if (c == '%') {
      uri += "%25";
    } else if (c == '?') {
      uri += "%3f";
    } else if (c == '#') {
      uri += "%23";
    } else {
      uri += c;
    }
  }
  return uri + "?immutable=1";
}

// One thread at a time uses a connection and its statements: SQLite need not lock it for each step,
// which was a twentieth of what gathering takes.
int opened_with(int flags, bool immutable) {
  return flags | SQLITE_OPEN_NOMUTEX | (immutable ? SQLITE_OPEN_URI : 0);
}

template <std::size_t N>
std::array<std::uint8_t, N> bytes_at(const SQLite::Column& column) {
  std::array<std::uint8_t, N> bytes{};
  const void* from = column.getBlob();
  const auto size = std::min(N, static_cast<std::size_t>(std::max(0, column.getBytes())));
  if (from != nullptr) std::memcpy(bytes.data(), from, size);
  return bytes;
}

int primary_code(const SQLite::Exception& thrown) {
  return thrown.getErrorCode() & 0xff;
}

}  // namespace

Connection::Connection(const std::string& path, int flags, bool immutable)
    : database_(immutable ? immutable_uri(path) : path, opened_with(flags, immutable),
                kBusyMilliseconds) {
  sqlite3_extended_result_codes(database_.getHandle(), 1);
}

std::shared_ptr<Prepared> Connection::prepared(std::string_view sql) {
  const auto made = [&] {
    return std::make_shared<Prepared>(SQLite::Statement(database_, std::string(sql)), false);
  };
  const auto cached = cache_.find(sql);
  if (cached == cache_.end()) return cache_.emplace(sql, made()).first->second;
  return cached->second->busy ? made() : cached->second;
}

bool Connection::in_transaction() const {
  return sqlite3_get_autocommit(database_.getHandle()) == 0;
}

Query::Query(Connection& connection, std::string_view sql) : prepared_(connection.prepared(sql)) {
  prepared_->busy = true;
}

Query::~Query() {
  prepared_->statement.tryReset();  // its result was that of the last step
  prepared_->statement.clearBindings();
  prepared_->busy = false;
}

Query& Query::bind(int at, std::int64_t value) {
  prepared_->statement.bind(at, value);
  return *this;
}
Query& Query::bind(int at, std::string_view text) {
  prepared_->statement.bind(at, std::string(text));
  return *this;
}
Query& Query::bind(int at, const Uuid& id) {
  prepared_->statement.bindNoCopy(at, id.bytes.data(), static_cast<int>(id.bytes.size()));
  return *this;
}
Query& Query::bind(int at, const Digest& digest) {
  return bind(at, digest.bytes);
}
Query& Query::bind(int at, const std::array<std::uint8_t, 32>& key) {
  prepared_->statement.bindNoCopy(at, key.data(), static_cast<int>(key.size()));
  return *this;
}
Query& Query::null(int at) {
  prepared_->statement.bind(at);
  return *this;
}

bool Query::is_null(int column) const {
  return prepared_->statement.isColumnNull(column);
}
std::int64_t Query::integer(int column) const {
  return prepared_->statement.getColumn(column).getInt64();
}
std::string_view Query::text(int column) const {
  const SQLite::Column cell = prepared_->statement.getColumn(column);
  const char* from = cell.getText();
  return {from, static_cast<std::size_t>(std::max(0, cell.getBytes()))};
}
std::size_t Query::size(int column) const {
  return static_cast<std::size_t>(std::max(0, prepared_->statement.getColumn(column).getBytes()));
}
Uuid Query::uuid(int column) const {
  return {bytes_at<16>(prepared_->statement.getColumn(column))};
}
Digest Query::digest(int column) const {
  return {bytes_at<32>(prepared_->statement.getColumn(column))};
}
std::array<std::uint8_t, 32> Query::key(int column) const {
  return bytes_at<32>(prepared_->statement.getColumn(column));
}

Error error_of(const SQLite::Exception& thrown, const std::string& path) {
  // SQLite quotes what stands in the file, which may be damaged or a stranger's.
  const std::string detail = " (" + cleaned(thrown.what()) + ")";
  switch (primary_code(thrown)) {
    case SQLITE_FULL:
      return {ErrorKind::kIo, "no space is left where the ledger lies; nothing of this was kept",
              path, "make room on the disk, then do it again"};
    case SQLITE_IOERR:
      return {ErrorKind::kIo, "the disk failed; nothing of this was kept" + detail, path,
              "do it again; if it fails again, copy the ledger to another disk"};
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      return {ErrorKind::kIo, "another program holds the ledger; nothing of this was kept", path,
              "close the other program, then do it again"};
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_AUTH:
    case SQLITE_CANTOPEN:
      return {ErrorKind::kIo, "the ledger can't be reached or written here" + detail, path,
              "check the rights of the file and of its folder"};
    case SQLITE_CORRUPT:
      return {ErrorKind::kDamaged, "the ledger is damaged" + detail, path,
              "leave it as it is; run ligule-desk ledger-check on it"};
    case SQLITE_NOTADB:
      return {ErrorKind::kInvalid, "this is no ledger, or its first bytes are damaged", path,
              kNoLedger};
    case SQLITE_CONSTRAINT:
      return {ErrorKind::kConflict, "the ledger holds another thing in that place" + detail, path,
              "records are only ever added"};
    case SQLITE_TOOBIG:
      return {ErrorKind::kInvalid, "a text is too long" + detail, path, "shorten it"};
    default:
      return {ErrorKind::kIo, "the ledger could not do this" + detail, path,
              "do it again; if it fails again, restart the program"};
  }
}

bool spoils_connection(const SQLite::Exception& thrown) {
  switch (primary_code(thrown)) {
    case SQLITE_FULL:
    case SQLITE_IOERR:
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB:
    case SQLITE_NOMEM:
    case SQLITE_READONLY:
      return true;
    default:
      return false;
  }
}

}  // namespace ligule::ledger
