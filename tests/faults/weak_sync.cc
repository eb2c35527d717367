// SQLite's two calls that take SQL, taken over for the whole test program: a program's names go
// before those of shared libraries.
#include "tests/faults/weak_sync.h"

#include <dlfcn.h>
#include <sqlite3.h>

#include <string_view>

namespace ligule::faults {
namespace {

bool weak_now = false;

template <class Call>
Call* of_the_library(const char* name) {
  return reinterpret_cast<Call*>(::dlsym(RTLD_NEXT, name));
}

const char* weakened(const char* sql) {
  if (!weak_now || sql == nullptr) return sql;
  const std::string_view text = sql;
  if (text == "PRAGMA synchronous=FULL") return "PRAGMA synchronous=NORMAL";
  if (text == "PRAGMA synchronous") return "SELECT 2";
  return sql;
}

}  // namespace

WeakSync::WeakSync() {
  weak_now = true;
}
WeakSync::~WeakSync() {
  weak_now = false;
}

}  // namespace ligule::faults

extern "C" {

int sqlite3_exec(sqlite3* database, const char* sql, int (*row)(void*, int, char**, char**),
                 void* context, char** message) {
  static auto* const exec = ligule::faults::of_the_library<decltype(sqlite3_exec)>("sqlite3_exec");
  return exec(database, ligule::faults::weakened(sql), row, context, message);
}

int sqlite3_prepare_v2(sqlite3* database, const char* sql, int size, sqlite3_stmt** statement,
                       const char** tail) {
  static auto* const prepare =
      ligule::faults::of_the_library<decltype(sqlite3_prepare_v2)>("sqlite3_prepare_v2");
  const char* const asked = ligule::faults::weakened(sql);
  return prepare(database, asked, asked == sql ? size : -1, statement, tail);
}

}  // extern "C"
