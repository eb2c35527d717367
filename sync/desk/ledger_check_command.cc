// ledger-check: whether a ledger is whole, down to each record's place in its chain; of a damaged
// one what is whole, what is lost, and which season file or copy gives it back.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <optional>

#include "sync/desk/ledgers.h"
#include "sync/gather/give_back.h"
#include "sync/gather/trusted.h"
#include "sync/seal/keys.h"

namespace ligule::desk {
namespace {

// Whether a ledger writes a stream: of those it wrote, the one that no other goes on from. (It
// began another one where it was put back from a copy, or its key was lost.)
std::string whose(const ledger::StreamInfo& stream,
                  const std::vector<ledger::StreamInfo>& streams) {
  if (!stream.mine) return {};
  const bool before = std::ranges::any_of(streams, [&](const ledger::StreamInfo& other) {
    return other.mine && other.continues == stream.id;
  });
  return before ? " (this ledger, before)" : " (this ledger)";
}

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
      console.out << "  " << stream.device << whose(stream, *streams) << ": "
                  << gather::records_text(span.first, span.last) << ", stream " << stream.id.text()
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

// "record 5", "records 1 to 40, 43 to 300"; empty: there are none of the stream.
std::string listed(const std::vector<ledger::LostRun>& runs, StreamId stream) {
  std::string text;
  bool several = false;
  for (const ledger::LostRun& run : runs) {
    if (run.stream != stream) continue;
    several = several || !text.empty() || run.first != run.last;
    if (!text.empty()) text += ", ";
    fmt::format_to(std::back_inserter(text), "{}", run.first);
    if (run.first != run.last) fmt::format_to(std::back_inserter(text), " to {}", run.last);
  }
  return text.empty() ? text : fmt::format("{} {}", several ? "records" : "record", text);
}

void tell_records(const ledger::Salvaged& found, Console& console) {
  std::vector<ledger::LostRun> runs;
  runs.reserve(found.runs.size());
  for (const ledger::WholeRun& run : found.runs)
    runs.push_back({run.span.stream, run.span.first, run.span.last});
  for (const ledger::StreamInfo& stream : found.streams) {
    const std::string whole = listed(runs, stream.id);
    const std::string lost = listed(found.lost, stream.id);
    console.out << "  " << stream.device << whose(stream, found.streams)
                << ": whole: " << (whole.empty() ? "none" : whole)
                << "; lost: " << (lost.empty() ? "none" : lost) << "; stream " << stream.id.text()
                << "\n";
  }
}

void tell_given_back(const ledger::Salvaged& found, const std::vector<gather::GivesBack>& files,
                     Console& console) {
  for (const gather::GivesBack& each : files) {
    for (const Error& fault : each.faults) console.err << one_line(fault) << "\n";
    if (each.runs.empty() && !found.lost.empty())
      console.out << "  " << each.file << " gives nothing of it back\n";
    for (const ledger::StreamInfo& stream : found.streams)
      if (const std::string back = listed(each.runs, stream.id); !back.empty())
        console.out << "  " << each.file << " gives back " << back << " of " << stream.device
                    << "\n";
  }
  const auto lost = gather::still_lost(found, files);
  for (const ledger::StreamInfo& stream : found.streams)
    if (const std::string left = listed(lost, stream.id); !left.empty())
      console.out << "  in none of the files named: " << left << " of " << stream.device << "\n";
}

// A name of a file as a shell reads it (POSIX.1-2017, XCU 2.2.2) and no option.
std::string typed(const std::string& file) {
  constexpr std::string_view kPlain =
      "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_./-+,:=@%";
  const std::string name = file.starts_with('-') ? "./" + file : file;
  if (name.find_first_not_of(kPlain) == std::string::npos) return name;
  std::string quoted = "'";
  for (const char letter : name) {
    if (letter == '\'')
      quoted += "'\\''";
    else
      quoted += letter;
  }
  return quoted + "'";
}

// The tablets whose key must be named besides the one that lies beside the ledger.
std::string other_tablets(const ledger::Salvaged& found,
                          const std::optional<ledger::PublicKey>& beside) {
  std::vector<std::string> devices;
  for (const ledger::StreamInfo& stream : found.streams)
    if (beside != stream.public_key && std::ranges::find(devices, stream.device) == devices.end())
      devices.push_back(stream.device);
  return fmt::format("{}", fmt::join(devices, ", "));
}

// How to make a whole ledger of it, as it would be typed.
void tell_way_back(const std::string& path, const ledger::Salvaged& found,
                   const std::vector<gather::GivesBack>& files, Console& console) {
  std::string call = "ligule-desk rebuild --ledger NEW.ligule";
  const auto into = std::back_inserter(call);
  const std::string key_file = seal::public_key_path(path).string();
  std::optional<ledger::PublicKey> beside;
  if (const auto key = seal::load_public_key(console.files, key_file)) beside = *key;
  if (beside) fmt::format_to(into, " --key {}", typed(key_file));
  std::string copies;
  for (const gather::GivesBack& each : files) {
    if (each.runs.empty()) continue;
    const bool season = each.form == gather::GivesBack::Form::kSeasonFile;
    fmt::format_to(std::back_inserter(season ? call : copies), "{}{}", season ? " " : " --copy ",
                   typed(each.file));
  }
  fmt::format_to(into, " --copy {}{}", typed(path), copies);
  console.out << "what is whole comes back by: " << call << "\n";
  if (const std::string others = other_tablets(found, beside); !others.empty())
    console.out << "  with --key KEY.pub of " << others << ", or --trusted-by LEDGER\n";
}

// The file is read as bytes here, so nobody in this program may have it open any more.
Exit tell_damaged(const std::string& path, std::vector<Error> faults, const Arguments& arguments,
                  Console& console) {
  const auto found = ledger::salvage(path);
  if (!found && found.error().kind == ErrorKind::kConflict) {
    // Whether it is damaged nobody can tell now.
    static_cast<void>(refuse_file(console, found.error(), "the ledger could not be checked"));
    return Exit::kCouldNot;
  }
  if (!found) {
    // Else they would lead to this very command.
    for (Error& fault : faults)
      if (fault.kind == ErrorKind::kDamaged)
        fault.mend =
            "no record can be had of it: leave it as it is; take season files and older copies";
    if (found.error().kind != ErrorKind::kInvalid) faults.push_back(found.error());
    return refuse_file(console, faults, "the ledger could not be checked");
  }
  console.out << path << ": damaged\n";
  tell_records(*found, console);
  std::vector<gather::GivesBack> files;
  for (const std::string& file : arguments.all("FILE"))
    files.push_back(gather::gives_back(*found, console.files, file));
  tell_given_back(*found, files, console);
  tell_way_back(path, *found, files, console);
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
  const auto is_whole = [](const auto& findings) { return findings && findings->empty(); };
  auto findings = look(path, console);
  // What another program was writing just then may have looked so: a second look tells.
  if (!is_whole(findings) && (findings || may_be_damage(findings.error().kind)))
    findings = look(path, console);
  if (is_whole(findings)) return Exit::kDone;
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
