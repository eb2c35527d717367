// The server that with_postgres.sh started: databases of a test's own, and plain SQL on them.
#pragma once

#include <gtest/gtest.h>
#include <libpq-fe.h>

#include <cstdlib>
#include <memory>
#include <string>

namespace ligule::archive {

inline std::string server(const std::string& part = "") {
  const std::string name = "LIGULE_TEST_POSTGRES" + part;
  const char* const told =
      std::getenv(name.c_str());  // NOLINT(concurrency-mt-unsafe): none sets it
  if (told != nullptr) return told;
  ADD_FAILURE() << "run this by tests/sync/archive/with_postgres.sh";
  return {};
}

// A connection without any of ours.
class Sql {
 public:
  explicit Sql(const std::string& database)
      : connection_(PQconnectdb((server() + database).c_str()), PQfinish) {
    PQsetNoticeProcessor(
        connection_.get(), [](void* /*unused*/, const char* /*unused*/) {}, nullptr);
  }
  // The first cell of what it gives, or "error: " and what the server said.
  std::string run(const std::string& sql) {
    const std::unique_ptr<PGresult, void (*)(PGresult*)> result(
        PQexec(connection_.get(), sql.c_str()), PQclear);
    const ExecStatusType status = PQresultStatus(result.get());
    if (status == PGRES_TUPLES_OK)
      return PQntuples(result.get()) == 0 ? "" : PQgetvalue(result.get(), 0, 0);
    if (status == PGRES_COMMAND_OK) return "";
    return std::string("error: ") + PQerrorMessage(connection_.get());
  }

 private:
  std::unique_ptr<PGconn, void (*)(PGconn*)> connection_;
};

// An empty database, dropped at the end.
class Database {
 public:
  Database() : name("forage" + std::to_string(++made())) {
    EXPECT_EQ(Sql("postgres").run("CREATE DATABASE " + name), "");
  }
  Database(const Database&) = delete;
  Database& operator=(const Database&) = delete;
  Database(Database&&) = delete;
  Database& operator=(Database&&) = delete;
  ~Database() { Sql("postgres").run("DROP DATABASE " + name + " WITH (FORCE)"); }

  [[nodiscard]] std::string url() const { return server() + name; }

  std::string name;

 private:
  static int& made() {
    static int count = 0;
    return count;
  }
};

}  // namespace ligule::archive
