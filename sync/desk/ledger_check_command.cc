// ledger-check: whether a ledger is whole, down to each record's place in its chain.
#include "sync/desk/ledgers.h"
#include "sync/gather/trusted.h"

namespace ligule::desk {
namespace {

Exit tell_whole(const ledger::Ledger& ledger, Console& console) {
  const auto streams = ledger.streams();
  if (!streams) return refuse_file(console, streams.error(), "the check was not finished");
  const auto spans = ledger.spans();
  if (!spans) return refuse_file(console, spans.error(), "the check was not finished");
  const auto digest = ledger.digest();
  if (!digest) return refuse_file(console, digest.error(), "the check was not finished");
  std::int64_t records = 0;
  for (const ledger::StreamInfo& stream : *streams) {
    for (const ledger::Span& span : *spans) {
      if (span.stream != stream.id) continue;
      records += span.last - span.first + 1;
      console.out << "  " << stream.device << (stream.mine ? " (this ledger)" : "") << ": records "
                  << span.first << " to " << span.last << ", stream " << stream.id.text()
                  << (stream.demo ? ", for demonstration" : "") << "\n";
    }
  }
  const auto doubtful = gather::doubtful(ledger);
  if (!doubtful) return refuse_file(console, doubtful.error(), "the check was not finished");
  for (const gather::Doubtful& each : *doubtful) console.out << "  " << each.line() << "\n";
  console.out << ledger.path() << ": whole, " << counted(records, "record") << " of "
              << counted(static_cast<std::int64_t>(streams->size()), "stream") << "\n"
              << "ledger digest: " << digest->hex() << "\n";
  return Exit::kDone;
}

Exit run_check(const Arguments& arguments, Console& console) {
  const auto ledger = ledger::Ledger::open(arguments.text("--ledger"), ledger::Access::kReadOnly);
  if (!ledger) return refuse_file(console, ledger.error(), "the ledger could not be checked");
  const auto findings = ledger->check();
  if (!findings) {
    return refuse_file(console, findings.error(), "the ledger could not be checked");
  }
  if (findings->empty()) return tell_whole(*ledger, console);
  return report_faults(console, *findings,
                       counted(static_cast<std::int64_t>(findings->size()), "fault") + " in " +
                           ledger->path() + "; nothing was changed");
}

}  // namespace

Command ledger_check_command() {
  return {
      .name = "ledger-check",
      .help = "Check a ledger whole: its pages, every chain, and what is worked out from them",
      .options = {ledger_option("Ledger to check; it is not changed")},
      .run = run_check,
  };
}

}  // namespace ligule::desk
