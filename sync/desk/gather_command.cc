// gather: season files of any number of tablets into one ledger.
#include <algorithm>

#include "sync/desk/ledgers.h"
#include "sync/gather/gather.h"
#include "sync/gather/trusted.h"

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
  const auto doubtful = gather::doubtful(ledger);
  if (!doubtful) return std::unexpected(doubtful.error());
  for (const gather::Doubtful& each : *doubtful)
    console.out << "after a key was revoked: " << each.line() << "\n";
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

struct Refused {
  std::string file;
  files::Faults faults;
};

// A file may lean on another one: of a revoked key, or of a stream that forked.
bool may_be_taken_later(const files::Faults& faults) {
  return std::ranges::any_of(faults, [](const Error& fault) {
    return fault.kind == ErrorKind::kNotTrusted || fault.kind == ErrorKind::kConflict;
  });
}

// Takes in what it can, in the order given, and what was refused once more after what came behind
// it: so one call gives one ledger, whatever the order. Gives the files that stay refused.
std::vector<Refused> take_all(ledger::Ledger& ledger, std::vector<std::string> files,
                              ledger::Branch branch, Console& console) {
  std::vector<Refused> refused;
  bool any_new = true;
  while (any_new && !files.empty()) {
    any_new = false;
    std::vector<std::string> again;
    std::erase_if(refused, [](const Refused& each) { return may_be_taken_later(each.faults); });
    for (const std::string& file : files) {
      auto gathered = gather::gather_file(ledger, console.files, file, wall_clock(), branch);
      if (gathered) {
        tell(*gathered, console);
        any_new = any_new || gathered->absorbed.added > 0;
        continue;
      }
      if (may_be_taken_later(gathered.error())) again.push_back(file);
      refused.push_back({file, std::move(gathered).error()});
    }
    files = std::move(again);
  }
  return refused;
}

Exit run_gather(const Arguments& arguments, Console& console) {
  // A ledger made here would trust no key, so that every file would be refused and an empty ledger
  // stay behind under a mistyped name.
  auto ledger = ledger::Ledger::open(arguments.text("--ledger"));
  if (!ledger && ledger.error().kind == ErrorKind::kNotFound) {
    ledger.error().mend = "check the name; a new one begins with ligule-desk trust";
  }
  if (!ledger) return refuse_file(console, ledger.error(), "nothing was gathered");
  const ledger::Branch branch =
      arguments.has("--branch") ? ledger::Branch::kChosen : ledger::Branch::kAny;
  Exit exit = Exit::kDone;
  for (const Refused& refused : take_all(*ledger, arguments.all("FILE"), branch, console))
    exit = std::max(exit, refuse_file(console, refused.faults, refused.file + " was not gathered"));
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
              {.name = "--branch",
               .help =
                   "Of a ledger that was copied and went on twice: these files are of the branch "
                   "to be kept; what does not meet them is refused from now on"},
          },
      .run = run_gather,
  };
}

}  // namespace ligule::desk
