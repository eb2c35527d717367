#include "sync/archive/libpq.h"

#include <dlfcn.h>

namespace ligule::archive {
namespace {

// As Debian has it; another number would break what is compiled against its header.
constexpr const char* kLibrary = "libpq.so.5";

template <class Function>
bool find(void* library, const char* name, Function& function) {
  function = reinterpret_cast<Function>(::dlsym(library, name));
  return function != nullptr;
}

}  // namespace

std::optional<Libpq> load_libpq(const char* file) {
  void* const library = ::dlopen(file, RTLD_NOW | RTLD_LOCAL);  // stays until the end
  if (library == nullptr) return std::nullopt;
  Libpq all;
  bool found = true;
  found = find(library, "PQclear", all.PQclear) && found;
  found = find(library, "PQcmdStatus", all.PQcmdStatus) && found;
  found = find(library, "PQcmdTuples", all.PQcmdTuples) && found;
  found = find(library, "PQconnectdbParams", all.PQconnectdbParams) && found;
  found = find(library, "PQconninfoFree", all.PQconninfoFree) && found;
  found = find(library, "PQconninfoParse", all.PQconninfoParse) && found;
  found = find(library, "PQdb", all.PQdb) && found;
  found = find(library, "PQerrorMessage", all.PQerrorMessage) && found;
  found = find(library, "PQexec", all.PQexec) && found;
  found = find(library, "PQexecParams", all.PQexecParams) && found;
  found = find(library, "PQfinish", all.PQfinish) && found;
  found = find(library, "PQfreemem", all.PQfreemem) && found;
  found = find(library, "PQgetResult", all.PQgetResult) && found;
  found = find(library, "PQgetisnull", all.PQgetisnull) && found;
  found = find(library, "PQgetlength", all.PQgetlength) && found;
  found = find(library, "PQgetvalue", all.PQgetvalue) && found;
  found = find(library, "PQntuples", all.PQntuples) && found;
  found = find(library, "PQparameterStatus", all.PQparameterStatus) && found;
  found = find(library, "PQputCopyData", all.PQputCopyData) && found;
  found = find(library, "PQputCopyEnd", all.PQputCopyEnd) && found;
  found = find(library, "PQresultErrorField", all.PQresultErrorField) && found;
  found = find(library, "PQresultStatus", all.PQresultStatus) && found;
  found = find(library, "PQserverVersion", all.PQserverVersion) && found;
  found = find(library, "PQsetNoticeReceiver", all.PQsetNoticeReceiver) && found;
  found = find(library, "PQstatus", all.PQstatus) && found;
  return found ? std::optional(all) : std::nullopt;
}

const Libpq* find_libpq() {
  static const std::optional<Libpq> loaded = load_libpq(kLibrary);
  return loaded ? &*loaded : nullptr;
}

}  // namespace ligule::archive
