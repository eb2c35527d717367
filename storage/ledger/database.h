// The open file behind a Ledger: its connection, its own stream, and the two ways in (read, write).
// Private to storage/ledger.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>

#include "storage/ledger/connection.h"
#include "storage/ledger/file_identity.h"
#include "storage/ledger/ledger.h"

namespace ligule::ledger {

// A file on a medium or in a folder that can't be written has no place for the files a write-ahead
// log needs. Without such a log nothing is missing from the file itself, and it can be read alone.
[[nodiscard]] std::unique_ptr<Connection> connection_for_reading(const std::string& path);

// Notes which disk the file lies on, where it says so.
void note_disk(Connection& connection, const std::string& path);

// Says in a new database which file it is, that it writes no stream yet, and how its projections
// were made.
void note_this_file(Connection& connection, const FileIdentity& identity);

class Store {
 public:
  Store(std::string path, Access access) : path_(std::move(path)), access_(access) {}

  // Opens the file, checks it and reads whose stream it writes.
  [[nodiscard]] Result<void> connect();
  // An empty one that stands in no file; its path must be kInMemory.
  [[nodiscard]] Result<void> make_in_memory();
  // Lets go of the file. The write-ahead log is folded in where that succeeds.
  void disconnect() { connection_.reset(); }

  [[nodiscard]] const std::string& path() const { return path_; }
  // The stream appended to; empty before start_stream().
  [[nodiscard]] const std::optional<StreamInfo>& mine() const { return mine_; }
  // The stream this file, or the file it is a copy of, wrote last.
  [[nodiscard]] const std::optional<StreamId>& wrote_before() const { return wrote_before_; }
  // Reads both again from the file.
  [[nodiscard]] Result<void> load_own_stream(Connection& connection);

  // Runs work(Connection&) -> Result<T> and turns what the database throws into an error.
  template <class Work>
  auto read(Work work) -> std::invoke_result_t<Work, Connection&> {
    if (auto open = ensure_open(); !open) return std::unexpected(std::move(open).error());
    try {
      return work(*connection_);
    } catch (const SQLite::Exception& thrown) {
      return std::unexpected(after_failure(thrown));
    }
  }

  // The same within one transaction, durable when this returns: all of it, or nothing when work
  // gives an error or the machine fails. After a failure of the disk the file is opened anew and
  // checked before anything else is done with it, because a failed sync cannot be repeated.
  template <class Work>
  auto write(Work work) -> std::invoke_result_t<Work, Connection&> {
    if (auto open = ensure_writable(); !open) return std::unexpected(std::move(open).error());
    try {
      Query(*connection_, "BEGIN IMMEDIATE").run();
      auto result = work(*connection_);
      Query(*connection_, result ? "COMMIT" : "ROLLBACK").run();
      return result;
    } catch (const SQLite::Exception& thrown) {
      return std::unexpected(after_failure(thrown));
    }
  }

 private:
  [[nodiscard]] Result<void> ensure_open();
  [[nodiscard]] Result<void> ensure_writable();
  [[nodiscard]] Result<void> open_checked();
  [[nodiscard]] Error after_failure(const SQLite::Exception& thrown);

  std::string path_;
  Access access_;
  std::unique_ptr<Connection> connection_;  // null after a failure until it opens again
  std::optional<StreamInfo> mine_;
  std::optional<StreamId> wrote_before_;
};

struct Ledger::Database : Store {
  using Store::Store;
};

}  // namespace ligule::ledger
