#include "sync/desk/gathering.h"

#include <algorithm>

#include "sync/gather/give_back.h"
#include "sync/gather/trusted.h"

namespace ligule::desk {
namespace {

void tell(const gather::Gathered& gathered, Console& console) {
  console.out << gathered.name << ": " << gathered.device << " (" << gathered.label << "), "
              << gather::records_text(gathered.span.first, gathered.span.last) << ", ";
  if (gathered.absorbed.added == 0) {
    console.out << "nothing new\n";
  } else {
    console.out << gathered.absorbed.added << " new\n";
  }
  if (gathered.senseless > 0)
    console.out << "  " << counted(gathered.senseless, "record")
                << " carried for nothing, since they lack what their kind must say: verify names "
                   "them\n";
  if (gathered.remarks > 0)
    console.out << "  " << counted(gathered.remarks, "record")
                << " believed, although a date, an offset or the like cannot be quite so: verify "
                   "names them\n";
  if (gathered.unread > 0) {
    console.out << "  " << counted(gathered.unread, "record")
                << " of a later kind: carried, read by a newer version of the program\n";
  }
}

// A file may lean on another one: of a revoked key, or of a stream that forked.
bool may_be_taken_later(const files::Faults& faults) {
  return std::ranges::any_of(faults, [](const Error& fault) {
    return fault.kind == ErrorKind::kNotTrusted || fault.kind == ErrorKind::kConflict;
  });
}

// Whether a ledger file is damaged: some of its records are not what they were, or it can't be
// opened; one whose first bytes are damaged looks like another kind of file.
bool may_be_damaged(const Result<gather::GatheredLedger>& gathered) {
  if (!gathered)
    return gathered.error().kind == ErrorKind::kDamaged ||
           gathered.error().kind == ErrorKind::kInvalid;
  return std::ranges::any_of(gathered->refused,
                             [](const Error& error) { return error.kind == ErrorKind::kDamaged; });
}

// Whether a run of records is part of another one.
bool lies_in(const ledger::Span& part, const ledger::Span& whole) {
  return part.stream == whole.stream && whole.first <= part.first && part.last <= whole.last;
}

// One report of both: what was new at the first is known at the second.
gather::GatheredLedger merged(const gather::GatheredLedger& first, gather::GatheredLedger second) {
  for (const gather::Gathered& before : first.taken) {
    const auto again = std::ranges::find_if(second.taken, [&](const gather::Gathered& each) {
      return lies_in(before.span, each.span);
    });
    if (again == second.taken.end()) {
      second.taken.push_back(before);
      continue;
    }
    again->absorbed.added += before.absorbed.added;
    again->absorbed.known -= before.absorbed.added;
  }
  return second;
}

// What of a ledger file can be taken, all or what is whole of it.
Result<gather::GatheredLedger> take_ledger(ledger::Ledger& ledger, const std::string& file) {
  auto gathered = gather::gather_ledger(ledger, file);
  if (!may_be_damaged(gathered)) return gathered;
  auto salvaged = gather::gather_salvaged(ledger, file);
  if (!salvaged) return gathered;
  if (gathered) return merged(*gathered, *std::move(salvaged));
  return salvaged;
}

}  // namespace

std::vector<Refused> take_each(
    std::vector<std::string> files,
    const std::function<files::Checked<gather::Gathered>(const std::string&)>& take,
    const std::function<bool()>& lost, Console& console) {
  std::vector<Refused> refused;
  bool any_new = true;
  while (any_new && !files.empty()) {
    any_new = false;
    std::vector<std::string> again;
    std::erase_if(refused, [](const Refused& each) { return may_be_taken_later(each.faults); });
    for (const std::string& file : files) {
      auto gathered = take(file);
      if (gathered) {
        tell(*gathered, console);
        any_new = any_new || gathered->absorbed.added > 0;
        continue;
      }
      if (may_be_taken_later(gathered.error())) again.push_back(file);
      refused.push_back({file, std::move(gathered).error()});
      if (lost()) return refused;
    }
    files = std::move(again);
  }
  return refused;
}

std::vector<Refused> take_all(ledger::Ledger& ledger, std::vector<std::string> files,
                              ledger::Branch branch, Console& console) {
  const auto take = [&](const std::string& file) {
    return gather::gather_file(ledger, console.files, file, wall_clock(), branch);
  };
  return take_each(
      std::move(files), take, [] { return false; }, console);
}

Exit take_ledgers(ledger::Ledger& ledger, const std::vector<std::string>& files, Console& console) {
  Exit exit = Exit::kDone;
  for (const std::string& file : files) {
    const auto gathered = take_ledger(ledger, file);
    if (!gathered) {
      exit = std::max(exit, refuse_file(console, gathered.error(), file + " was not taken in"));
      continue;
    }
    for (const gather::Gathered& each : gathered->taken) tell(each, console);
    if (!gathered->refused.empty())
      exit = std::max(exit, refuse_file(console, gathered->refused,
                                        "the rest of " + file + " was not taken in"));
  }
  return exit;
}

Option copy_option() {
  return {.name = "--copy",
          .value = "LEDGER",
          .help =
              "A ledger file itself, a tablet's or a copy of it: nobody signed it, who names it "
              "vouches for it",
          .repeated = true};
}

Result<std::size_t> tell_state(const ledger::Ledger& ledger, Console& console) {
  const auto gaps = gather::gaps(ledger);
  if (!gaps) return std::unexpected(gaps.error());
  for (const gather::Gap& gap : *gaps) {
    console.out << "gap: " << gap.line() << "\n";
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
  return gaps->size();
}

}  // namespace ligule::desk
