// ledger-check: whether a ledger is whole, down to each record's place in its chain; of a damaged
// one what is whole, what is lost, and which season file or copy gives it back.
#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "sync/desk/ledgers.h"
#include "sync/gather/give_back.h"
#include "sync/gather/trusted.h"
#include "sync/seal/keys.h"

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

// "1 to 40, 43 to 300"
template <class Runs, class Ends>
std::string listed(const Runs& runs, StreamId stream, Ends ends) {
  std::string text;
  for (const auto& run : runs) {
    const auto& [of, first, last] = ends(run);
    if (of != stream) continue;
    fmt::format_to(std::back_inserter(text), "{}{} to {}", text.empty() ? "" : ", ", first, last);
  }
  return text;
}

std::string listed(const std::vector<ledger::LostRun>& runs, StreamId stream) {
  return listed(runs, stream, [](const ledger::LostRun& run) {
    return std::tuple(run.stream, run.first, run.last);
  });
}

void tell_records(const ledger::Salvaged& found, Console& console) {
  for (const ledger::StreamInfo& stream : found.streams) {
    const std::string whole = listed(found.runs, stream.id, [](const ledger::WholeRun& run) {
      return std::tuple(run.span.stream, run.span.first, run.span.last);
    });
    const std::string lost = listed(found.lost, stream.id);
    console.out << "  " << stream.device << (stream.mine ? " (this ledger)" : "")
                << ": whole: " << (whole.empty() ? "none" : "records " + whole)
                << "; lost: " << (lost.empty() ? "none" : "records " + lost) << "; stream "
                << stream.id.text() << "\n";
  }
}

void tell_given_back(const ledger::Salvaged& found, const std::vector<gather::GivesBack>& files,
                     Console& console) {
  for (const gather::GivesBack& each : files) {
    for (const Error& fault : each.faults) console.err << one_line(fault) << "\n";
    if (each.runs.empty()) console.out << "  " << each.file << " gives nothing of it back\n";
    for (const ledger::StreamInfo& stream : found.streams)
      if (const std::string back = listed(each.runs, stream.id); !back.empty())
        console.out << "  " << each.file << " gives back records " << back << " of "
                    << stream.device << "\n";
  }
  const auto lost = gather::still_lost(found, files);
  for (const ledger::StreamInfo& stream : found.streams)
    if (const std::string left = listed(lost, stream.id); !left.empty())
      console.out << "  in none of the files named: records " << left << " of " << stream.device
                  << "\n";
}

// How to make a whole ledger of it, as it would be typed.
void tell_way_back(const std::string& path, std::size_t tablets,
                   const std::vector<gather::GivesBack>& files, Console& console) {
  console.out << "what is whole comes back by: ligule-desk rebuild --ledger NEW.ligule --key "
              << seal::public_key_path(path).string();
  std::string copies;
  for (const gather::GivesBack& each : files) {
    if (each.runs.empty()) continue;
    const bool season = std::filesystem::path(each.file).extension() == ".zip";
    if (season)
      console.out << " " << each.file;
    else
      fmt::format_to(std::back_inserter(copies), " --copy {}", each.file);
  }
  console.out << " --copy " << path << copies << "\n";
  if (tablets > 1)
    console.out
        << "  with --key KEY.pub of each other tablet whose records it held, or --trusted-by "
           "LEDGER\n";
}

// The file is read as bytes here, so nobody in this program may have it open any more.
Exit tell_damaged(const std::string& path, std::vector<Error> faults, const Arguments& arguments,
                  Console& console) {
  const auto found = ledger::salvage(path);
  if (!found) return refuse_file(console, faults, "the ledger could not be checked");
  std::vector<gather::GivesBack> files;
  for (const std::string& file : arguments.all("FILE"))
    files.push_back(gather::gives_back(*found, console.files, file));
  console.out << path << ": damaged\n";
  tell_records(*found, console);
  tell_given_back(*found, files, console);
  tell_way_back(path, found->streams.size(), files, console);
  for (Error& fault : faults) fault.mend = "leave it as it is; make a new ledger of what is whole";
  static_cast<void>(report_faults(console, faults,
                                  counted(static_cast<std::int64_t>(faults.size()), "fault") +
                                      " in " + path + "; nothing was changed"));
  return Exit::kFaulty;
}

// What is wrong with a ledger; of one that is whole it tells what it holds.
Result<std::vector<Error>> look(const std::string& path, Console& console) {
  const auto ledger = ledger::Ledger::open(path, ledger::Access::kReadOnly);
  if (!ledger) return std::unexpected(ledger.error());
  auto findings = ledger->check();
  if (findings && findings->empty() && tell_whole(*ledger, console) != Exit::kDone)
    return fail(ErrorKind::kIo, "the check was not finished", path);
  return findings;
}

// A file whose first bytes are damaged looks like none.
bool may_be_damage(ErrorKind kind) {
  return kind == ErrorKind::kDamaged || kind == ErrorKind::kInvalid;
}

Exit run_check(const Arguments& arguments, Console& console) {
  const std::string path = arguments.text("--ledger");
  const auto findings = look(path, console);
  if (findings && findings->empty()) return Exit::kDone;
  if (!findings && !may_be_damage(findings.error().kind))
    return refuse_file(console, findings.error(), "the ledger could not be checked");
  return tell_damaged(path, findings ? *findings : std::vector{findings.error()}, arguments,
                      console);
}

}  // namespace

Command ledger_check_command() {
  return {
      .name = "ledger-check",
      .help = "Check a ledger whole; of a damaged one tell what is whole, lost, and given back",
      .options =
          {
              {.name = "FILE",
               .value = "FILE",
               .help = "Season file or spare copy that may give back what is lost",
               .repeated = true},
              ledger_option("Ledger to check; it is not changed"),
          },
      .run = run_check,
  };
}

}  // namespace ligule::desk
