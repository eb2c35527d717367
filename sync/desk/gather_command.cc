// gather: season files of any number of tablets into one ledger.
#include <algorithm>

#include "sync/desk/ledgers.h"
#include "sync/gather/gather.h"

namespace ligule::desk {
namespace {

void tell(const gather::Gathered& gathered, Console& console) {
  console.out << gathered.name << ": " << gathered.device << " (" << gathered.label << "), records "
              << gathered.span.first << " to " << gathered.span.last << ", ";
  if (gathered.absorbed.added == 0) {
    console.out << "nothing new\n";
  } else {
    console.out << gathered.absorbed.added << " new\n";
  }
  if (gathered.senseless > 0)
    console.out << "  " << counted(gathered.senseless, "record")
                << " carried for nothing, since they lack what their kind must say: verify names "
                   "them\n";
  if (gathered.unread > 0) {
    console.out << "  " << counted(gathered.unread, "record")
                << " of a later kind: carried, read by a newer version of the program\n";
  }
}

// Gaps and conflicts are no faults of this work: they are told, and settled by people.
Result<void> tell_state(const ledger::Ledger& ledger, Console& console) {
  const auto gaps = gather::gaps(ledger);
  if (!gaps) return std::unexpected(gaps.error());
  for (const gather::Gap& gap : *gaps) {
    console.out << "gap: records " << gap.first << " to " << gap.last << " of " << gap.device
                << ", stream " << gap.stream.text() << ", are in no file gathered so far\n";
  }
  const auto conflicts = gather::conflicts(ledger);
  if (!conflicts) return std::unexpected(conflicts.error());
  for (const gather::Conflict& conflict : *conflicts) {
    console.out << "conflict: " << conflict.line() << "\n";
  }
  const auto spans = ledger.spans();
  if (!spans) return std::unexpected(spans.error());
  const auto digest = ledger.digest();
  if (!digest) return std::unexpected(digest.error());
  std::int64_t records = 0;
  for (const ledger::Span& span : *spans) records += span.last - span.first + 1;
  console.out << ledger.path() << ": " << counted(records, "record") << ", "
              << counted(static_cast<std::int64_t>(gaps->size()), "gap") << ", "
              << counted(static_cast<std::int64_t>(conflicts->size()), "conflict") << "\n"
              << "ledger digest: " << digest->hex() << "\n";
  return {};
}

Exit run_gather(const Arguments& arguments, Console& console) {
  // A ledger made here would trust no key, so that every file would be refused and an empty ledger
  // stay behind under a mistyped name.
  auto ledger = ledger::Ledger::open(arguments.text("--ledger"));
  if (!ledger && ledger.error().kind == ErrorKind::kNotFound) {
    ledger.error().mend = "check the name; a new one begins with ligule-desk trust";
  }
  if (!ledger) return refuse_file(console, ledger.error(), "nothing was gathered");
  Exit exit = Exit::kDone;
  for (const std::string& file : arguments.all("FILE")) {
    const auto gathered = gather::gather_file(*ledger, console.files, file, wall_clock());
    if (gathered) {
      tell(*gathered, console);
    } else {
      exit = std::max(exit, refuse_file(console, gathered.error(), file + " was not gathered"));
    }
  }
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
               .required = true,
               .repeated = true},
              ledger_option("Ledger of the desk, begun with trust"),
          },
      .run = run_gather,
  };
}

}  // namespace ligule::desk
