// gather: season files of any number of tablets into one ledger.
#include <algorithm>

#include "sync/desk/archive_commands.h"
#include "sync/desk/gathering.h"

namespace ligule::desk {
namespace {

// Season files only: whoever reads the archive could not see who vouched for a ledger file.
Exit run_gather_into_archive(const Arguments& arguments, Console& console) {
  if (arguments.has("--copy"))
    return refuse_arguments(console, {ErrorKind::kInvalid, "an archive takes season files only",
                                      "--copy", "leave it out where --archive is given"});
  if (!arguments.has("FILE"))
    return refuse_arguments(console, {ErrorKind::kInvalid, "there is nothing to gather", "gather",
                                      "name season files"});
  return gather_into_archive(arguments, console);
}

Exit run_gather(const Arguments& arguments, Console& console) {
  if (arguments.has("--archive")) return run_gather_into_archive(arguments, console);
  // A ledger made here would trust no key, so that every file would be refused and an empty ledger
  // stay behind under a mistyped name.
  auto ledger = open_to_write(arguments.text("--ledger"), console);
  if (!ledger && ledger.error().kind == ErrorKind::kNotFound) {
    ledger.error().mend = "check the name; a new one begins with ligule-desk trust";
  }
  if (!ledger) return refuse_file(console, ledger.error(), "nothing was gathered");
  if (!arguments.has("FILE") && !arguments.has("--copy"))
    return refuse_arguments(console, {ErrorKind::kInvalid, "there is nothing to gather", "gather",
                                      "name season files, or a ledger with --copy"});
  const ledger::Branch branch =
      arguments.has("--branch") ? ledger::Branch::kChosen : ledger::Branch::kAny;
  Exit exit = Exit::kDone;
  for (const Refused& refused : take_all(*ledger, arguments.all("FILE"), branch, console))
    exit = std::max(exit, refuse_file(console, refused.faults, refused.file + " was not gathered"));
  exit = std::max(exit, take_ledgers(*ledger, arguments.all("--copy"), console));
  if (const auto told = tell_state(*ledger, console); !told) {
    return std::max(exit, refuse_file(console, told.error(), "the ledger could not be read"));
  }
  return exit;
}

}  // namespace

Command gather_command() {
  return {
      .name = "gather",
      .help = "Take the records of trusted season files into a ledger",
      .options =
          {
              {.name = "FILE",
               .value = "FILE",
               .help = "Season file; any number, in any order",
               .repeated = true},
              ledger_option("Ledger of the desk, begun with trust"),
              copy_option(),
              archive_option(
                  "Gather into a PostgreSQL archive, postgresql://USER@HOST/DATABASE, instead; the "
                  "ledger then only says whose keys are trusted"),
              {.name = "--branch",
               .help =
                   "Of a ledger that was copied and went on twice: these files are of the branch "
                   "to be kept; what does not meet them is refused from now on"},
          },
      .run = run_gather,
  };
}

}  // namespace ligule::desk
