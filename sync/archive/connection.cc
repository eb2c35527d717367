#include "sync/archive/connection.h"

#include <algorithm>
#include <array>
#include <charconv>

#include "sync/archive/libpq.h"

namespace ligule::archive {
namespace {

constexpr int kOldestServer = 110000;  // sha256() is of version 11

// The library's notices ("table exists, skipping") are nobody's.
void say_nothing(void* /*unused*/, const PGresult* /*unused*/) {}

template <class Number>
Number number_in(std::string_view text) {
  Number number{};
  std::from_chars(text.data(), text.data() + text.size(), number);
  return number;
}

}  // namespace

Rows::Rows(pg_result* result) : result_(result, pq().PQclear) {}

int Rows::count() const {
  return pq().PQntuples(result_.get());
}

std::int64_t Rows::affected() const {
  return number_in<std::int64_t>(pq().PQcmdTuples(result_.get()));
}

bool Rows::is_null(int row, int column) const {
  return pq().PQgetisnull(result_.get(), row, column) == 1;
}

std::string_view Rows::text(int row, int column) const {
  return {pq().PQgetvalue(result_.get(), row, column),
          static_cast<std::size_t>(pq().PQgetlength(result_.get(), row, column))};
}

std::int64_t Rows::integer(int row, int column) const {
  return number_in<std::int64_t>(text(row, column));
}

bool Rows::truth(int row, int column) const {
  return text(row, column) == "t";
}

void CopyText::part() {
  if (row_begun_) text_ += '\t';
  row_begun_ = true;
}

void CopyText::add(std::string_view cell) {
  part();
  for (const char c : cell) {
    switch (c) {
      case '\\':
        text_ += "\\\\";
        break;
      case '\t':
        text_ += "\\t";
        break;
      case '\n':
        text_ += "\\n";
        break;
      case '\r':
        text_ += "\\r";
        break;
      default:
        text_ += c;
    }
  }
}

void CopyText::add_nothing() {
  part();
  text_ += "\\N";
}

void CopyText::end_row() {
  text_ += '\n';
  row_begun_ = false;
}

void Connection::Closed::operator()(pg_conn* connection) const {
  pq().PQfinish(connection);
}

Connection::Connection(pg_conn* connection, Address address)
    : connection_(connection), address_(std::move(address)) {
  pq().PQsetNoticeReceiver(connection_.get(), say_nothing, nullptr);
}

Result<Connection> Connection::open(const Address& address) {
  // What the address says itself comes last and goes before these. Clients wait for each other so
  // long at most.
  const std::array<const char*, 7> names{"connect_timeout",
                                         "tcp_user_timeout",
                                         "fallback_application_name",
                                         "client_encoding",
                                         "options",
                                         "dbname",
                                         nullptr};
  const std::array<const char*, 7> values{
      "10", "60000", "ligule-desk", "UTF8", "-c lock_timeout=60s", address.url.c_str(), nullptr};
  Connection made(pq().PQconnectdbParams(names.data(), values.data(), 1), address);
  if (pq().PQstatus(made.connection_.get()) != CONNECTION_OK) {
    const std::string said = address.without_secret(pq().PQerrorMessage(made.connection_.get()));
    return fail(ErrorKind::kIo,
                "the archive can't be reached" + (said.empty() ? said : " (" + said + ")"),
                address.name, "look at the address, the network and the password");
  }
  if (auto prepared = made.prepare(); !prepared) return std::unexpected(prepared.error());
  return made;
}

Result<void> Connection::prepare() {
  if (pq().PQserverVersion(connection_.get()) < kOldestServer)
    return fail(ErrorKind::kIo, "the archive's server is older than PostgreSQL 11", name(),
                "keep the archive on a newer one");
  const char* const encoding = pq().PQparameterStatus(connection_.get(), "server_encoding");
  if (encoding == nullptr || std::string_view(encoding) != "UTF8")
    return fail(ErrorKind::kIo, "the archive's database does not keep texts in UTF-8", name(),
                "make it with createdb --encoding UTF8 --template template0");
  // What is reported as kept is on the server's disk, whatever the server does otherwise.
  return run_all(
      "SET client_encoding='UTF8'; SET bytea_output='hex'; SET datestyle='ISO';"
      " SET synchronous_commit=on; SET search_path=pg_catalog,pg_temp");
}

std::string Connection::database() const {
  return pq().PQdb(connection_.get());
}

Result<Rows> Connection::run(const char* sql, const std::vector<std::string>& parameters) {
  std::vector<const char*> values;
  values.reserve(parameters.size());
  for (const std::string& each : parameters) values.push_back(each.c_str());
  PGresult* const result =
      pq().PQexecParams(connection_.get(), sql, static_cast<int>(values.size()), nullptr,
                        values.data(), nullptr, nullptr, 0);
  Rows rows(result);
  const ExecStatusType status = pq().PQresultStatus(result);
  if (status == PGRES_COMMAND_OK || status == PGRES_TUPLES_OK) return rows;
  return std::unexpected(error_of(result));
}

Result<void> Connection::run_all(const char* sql) {
  PGresult* const result = pq().PQexec(connection_.get(), sql);
  const Rows rows(result);
  const ExecStatusType status = pq().PQresultStatus(result);
  if (status == PGRES_COMMAND_OK || status == PGRES_TUPLES_OK) return {};
  return std::unexpected(error_of(result));
}

Result<void> Connection::copy(const char* sql, const std::string& lines) {
  constexpr std::size_t kAtOnce = std::size_t{1} << 20U;
  PGresult* const begun = pq().PQexec(connection_.get(), sql);
  const Rows holds_begun(begun);
  if (pq().PQresultStatus(begun) != PGRES_COPY_IN) return std::unexpected(error_of(begun));
  bool sent = true;
  for (std::size_t at = 0; at < lines.size() && sent; at += kAtOnce) {
    const std::size_t size = std::min(kAtOnce, lines.size() - at);
    sent = pq().PQputCopyData(connection_.get(), lines.data() + at, static_cast<int>(size)) == 1;
  }
  sent = sent && pq().PQputCopyEnd(connection_.get(), nullptr) == 1;
  std::optional<Error> failed;
  while (PGresult* const result = pq().PQgetResult(connection_.get())) {
    const Rows rows(result);
    if (pq().PQresultStatus(result) == PGRES_COMMAND_OK) continue;
    if (!failed) failed = error_of(result);
    if (pq().PQresultStatus(result) == PGRES_COPY_IN) break;  // the way to the server is gone
  }
  if (!failed && !sent) failed = error_of(nullptr);
  if (failed) return std::unexpected(*failed);
  return {};
}

// A transaction in which something failed ends with ROLLBACK, and the server calls that no error.
Result<void> Connection::commit() {
  PGresult* const result = pq().PQexec(connection_.get(), "COMMIT");
  const Rows rows(result);
  if (pq().PQresultStatus(result) == PGRES_COMMAND_OK &&
      std::string_view(pq().PQcmdStatus(result)) == "COMMIT")
    return {};
  if (lost())
    return fail(ErrorKind::kIo, "the archive's server went away while the file was being kept",
                name(), "all of it was kept, or nothing; once it is back do the same again");
  return std::unexpected(error_of(result));
}

bool Connection::lost() const {
  return pq().PQstatus(connection_.get()) != CONNECTION_OK;
}

// SQLSTATE: a unique id that another client took first, serialization, deadlock (PostgreSQL
// manual, appendix A).
bool Connection::in_each_others_way() const {
  return !lost() && (state_ == "23505" || state_ == "40001" || state_ == "40P01");
}

Error Connection::error_of(const pg_result* result) {
  if (lost())
    return {ErrorKind::kIo, "the archive's server went away", name(),
            "once it is back do the same again"};
  const char* const state = pq().PQresultErrorField(result, PG_DIAG_SQLSTATE);
  state_ = state == nullptr ? "" : state;
  if (state_ == "55P03")  // lock_not_available
    return {ErrorKind::kIo, "another desk is gathering into it", name(),
            "wait until it is done, then do the same again"};
  const char* const primary = pq().PQresultErrorField(result, PG_DIAG_MESSAGE_PRIMARY);
  const std::string said = address_.without_secret(primary == nullptr ? "" : primary);
  return {ErrorKind::kIo, "the archive could not do it" + (said.empty() ? said : " (" + said + ")"),
          name(), "ask whoever keeps the archive"};
}

}  // namespace ligule::archive
