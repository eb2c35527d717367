// The desk without PostgreSQL's library.
#include "sync/desk/archive_commands.h"

namespace ligule::desk {
namespace {

Exit no_archive(Console& console) {
  return refuse_arguments(console,
                          {ErrorKind::kRefused, "this build has no archive", "--archive",
                           "build it where libpq-dev is installed, or work with a ledger"});
}

}  // namespace

Option archive_option(std::string help) {
  return {.name = "--archive", .value = "URL", .help = std::move(help) + " (not in this build)"};
}

Exit gather_into_archive(const Arguments& /*arguments*/, Console& console) {
  return no_archive(console);
}

Exit tables_of_archive(const std::string& /*url*/, const TablesWanted& /*wanted*/,
                       Console& console) {
  return no_archive(console);
}

}  // namespace ligule::desk
