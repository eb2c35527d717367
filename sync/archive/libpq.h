// PostgreSQL's library, loaded when it is first asked for: it brings two dozen others along, which
// takes as long as many a command of the desk, and few of them ask for an archive.
#pragma once

#include <libpq-fe.h>

#include <optional>

namespace ligule::archive {

// Its functions, by their own names (PostgreSQL manual, "libpq - C Library").
struct Libpq {
  decltype(&::PQclear) PQclear = nullptr;
  decltype(&::PQcmdStatus) PQcmdStatus = nullptr;
  decltype(&::PQcmdTuples) PQcmdTuples = nullptr;
  decltype(&::PQconnectdbParams) PQconnectdbParams = nullptr;
  decltype(&::PQconninfoFree) PQconninfoFree = nullptr;
  decltype(&::PQconninfoParse) PQconninfoParse = nullptr;
  decltype(&::PQdb) PQdb = nullptr;
  decltype(&::PQerrorMessage) PQerrorMessage = nullptr;
  decltype(&::PQexec) PQexec = nullptr;
  decltype(&::PQexecParams) PQexecParams = nullptr;
  decltype(&::PQfinish) PQfinish = nullptr;
  decltype(&::PQfreemem) PQfreemem = nullptr;
  decltype(&::PQgetResult) PQgetResult = nullptr;
  decltype(&::PQgetisnull) PQgetisnull = nullptr;
  decltype(&::PQgetlength) PQgetlength = nullptr;
  decltype(&::PQgetvalue) PQgetvalue = nullptr;
  decltype(&::PQntuples) PQntuples = nullptr;
  decltype(&::PQparameterStatus) PQparameterStatus = nullptr;
  decltype(&::PQputCopyData) PQputCopyData = nullptr;
  decltype(&::PQputCopyEnd) PQputCopyEnd = nullptr;
  decltype(&::PQresultErrorField) PQresultErrorField = nullptr;
  decltype(&::PQresultStatus) PQresultStatus = nullptr;
  decltype(&::PQserverVersion) PQserverVersion = nullptr;
  decltype(&::PQsetNoticeReceiver) PQsetNoticeReceiver = nullptr;
  decltype(&::PQstatus) PQstatus = nullptr;
};

// Empty where there is no such file, or where it lacks one of them.
[[nodiscard]] std::optional<Libpq> load_libpq(const char* file);

// Null where it is not installed. The same each time.
[[nodiscard]] const Libpq* find_libpq();

// The same for whoever has an address, which nobody has without it.
[[nodiscard]] inline const Libpq& pq() {
  return *find_libpq();
}

}  // namespace ligule::archive
