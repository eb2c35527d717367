// One connection to the database, its cached statements, and what its errors mean to a person.
// Private to storage/ledger; here SQLite throws, and every public function of the room catches.
#pragma once

#include <SQLiteCpp/SQLiteCpp.h>

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>

#include "storage/ledger/digest.h"
#include "storage/trial/identity.h"

namespace ligule::ledger {

// A statement of the cache; busy while somebody steps through it.
struct Prepared {
  SQLite::Statement statement;
  bool busy = false;
};

class Connection {
 public:
  // Throws SQLite::Exception. flags as of sqlite3_open_v2; immutable: nobody writes to the file
  // while it is open, and no write-ahead log is looked for.
  Connection(const std::string& path, int flags, bool immutable = false);

  SQLite::Database& database() { return database_; }
  // Prepared once, given out again; a statement in use is prepared a second time.
  std::shared_ptr<Prepared> prepared(std::string_view sql);
  void run(const std::string& sql) { database_.exec(sql); }
  // Whether BEGIN was run and neither COMMIT nor ROLLBACK.
  [[nodiscard]] bool in_transaction() const;

 private:
  SQLite::Database database_;
  // Looked up by text that need not be a string: a record that is taken in asks for ten.
  struct Hash {
    using is_transparent = void;
    std::size_t operator()(std::string_view sql) const {
      return std::hash<std::string_view>{}(sql);
    }
  };
  std::unordered_map<std::string, std::shared_ptr<Prepared>, Hash, std::equal_to<>> cache_;
};

// One use of a statement: binds, steps, and lets go of it at the end, so that no read lock stays.
// Parameters count from 1, columns from 0. Bound texts and ids must outlive the stepping.
class Query {
 public:
  Query(Connection& connection, std::string_view sql);
  Query(const Query&) = delete;
  Query& operator=(const Query&) = delete;
  Query(Query&&) = delete;
  Query& operator=(Query&&) = delete;
  ~Query();

  Query& bind(int at, std::int64_t value);
  Query& bind(int at, std::string_view text);
  Query& bind(int at, const Uuid& id);
  Query& bind(int at, const Digest& digest);
  Query& bind(int at, const std::array<std::uint8_t, 32>& key);
  template <class T>
  Query& bind(int at, const std::optional<T>& value) {
    return value ? bind(at, *value) : null(at);
  }
  Query& null(int at);

  // False after the last row.
  bool step() { return prepared_->statement.executeStep(); }
  // For statements without rows.
  void run() { prepared_->statement.exec(); }

  [[nodiscard]] bool is_null(int column) const;
  [[nodiscard]] std::int64_t integer(int column) const;
  // Stands until the next step.
  [[nodiscard]] std::string_view text(int column) const;
  // Bytes of a text or blob.
  [[nodiscard]] std::size_t size(int column) const;
  [[nodiscard]] Uuid uuid(int column) const;
  [[nodiscard]] Digest digest(int column) const;
  [[nodiscard]] std::array<std::uint8_t, 32> key(int column) const;

 private:
  std::shared_ptr<Prepared> prepared_;
};

// How to mend that a file is no ledger: it may have been one.
inline constexpr const char* kNoLedger =
    "name another file; one that was emptied comes back from season files and spare copies";

// What an exception of the database means: kIo, kDamaged, kConflict, kInvalid, with what to do.
[[nodiscard]] Error error_of(const SQLite::Exception& thrown, const std::string& path);
// Whether the connection may not be trusted after it: a failed sync can't be repeated, a full disk
// leaves the log file in an unknown state.
[[nodiscard]] bool spoils_connection(const SQLite::Exception& thrown);

}  // namespace ligule::ledger
