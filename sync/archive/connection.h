// A connection to a PostgreSQL server: statements with parameters, COPY, and errors as values.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "sync/archive/address.h"

struct pg_conn;
struct pg_result;

namespace ligule::archive {

// What a statement gave, all of it.
class Rows {
 public:
  explicit Rows(pg_result* result);

  [[nodiscard]] int count() const;
  // Rows that the statement added.
  [[nodiscard]] std::int64_t affected() const;
  [[nodiscard]] bool is_null(int row, int column) const;
  [[nodiscard]] std::string_view text(int row, int column) const;
  [[nodiscard]] std::int64_t integer(int row, int column) const;
  [[nodiscard]] bool truth(int row, int column) const;

 private:
  std::shared_ptr<pg_result> result_;
};

// Lines of COPY's text form: a tab between cells, \N for what does not apply, and every sign that
// would mean something written with a backslash (PostgreSQL manual, COPY, "Text Format").
class CopyText {
 public:
  void add(std::string_view cell);
  void add_nothing();
  void end_row();
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  void part();
  std::string text_;
  bool row_begun_ = false;
};

class Connection {
 public:
  // Connects, and asks of the server: version 11 or later, texts in UTF-8. kIo; no error holds the
  // password.
  [[nodiscard]] static Result<Connection> open(const Address& address);

  [[nodiscard]] const std::string& name() const { return address_.name; }
  [[nodiscard]] std::string database() const;

  // One statement; parameters as text. kIo with what the server said.
  [[nodiscard]] Result<Rows> run(const char* sql, const std::vector<std::string>& parameters = {});
  // Several statements without parameters.
  [[nodiscard]] Result<void> run_all(const char* sql);
  // "COPY ... FROM STDIN" of these lines.
  [[nodiscard]] Result<void> copy(const char* sql, const std::string& lines);

  // Runs work() -> Result<T> as one transaction: all of it is kept, or nothing. Where two clients
  // stood in each other's way it is run again.
  template <class Work>
  auto transaction(const char* begin, Work work) -> decltype(work()) {
    constexpr int kTries = 5;
    for (int tries = 1;; ++tries) {
      state_.clear();
      auto result = attempt(begin, work);
      if (result || !in_each_others_way() || tries == kTries) return result;
    }
  }

  // The server or the way to it is gone: nothing more can be asked.
  [[nodiscard]] bool lost() const;

 private:
  struct Closed {
    void operator()(pg_conn* connection) const;
  };
  Connection(pg_conn* connection, Address address);

  template <class Work>
  auto attempt(const char* begin, Work& work) -> decltype(work()) {
    if (auto begun = run_all(begin); !begun) return std::unexpected(begun.error());
    auto result = work();
    if (!result) {
      const std::string state = state_;
      // Where it fails the server has rolled back.
      [[maybe_unused]] const auto undone = run_all("ROLLBACK");
      state_ = state;
      return result;
    }
    if (auto kept = commit(); !kept) return std::unexpected(kept.error());
    return result;
  }

  [[nodiscard]] Result<void> prepare();
  [[nodiscard]] Result<void> commit();
  [[nodiscard]] bool in_each_others_way() const;
  [[nodiscard]] Error error_of(const pg_result* result);

  std::unique_ptr<pg_conn, Closed> connection_;
  Address address_;
  std::string state_;  // SQLSTATE of the last error
};

}  // namespace ligule::archive
