// rebuild: a ledger made anew from season files.
#include <algorithm>
#include <filesystem>
#include <optional>

#include "sync/desk/gathering.h"
#include "sync/gather/compare.h"
#include "sync/seal/keys.h"

namespace ligule::desk {
namespace {

using Keys = std::vector<ledger::TrustedKey>;

// Whose files are believed: as another ledger believes, and keys that are named.
Result<Keys> keys_given(const Arguments& arguments, Console& console) {
  Keys keys;
  if (const auto path = arguments.find("--trusted-by")) {
    const auto ledger = ledger::Ledger::open(*path, ledger::Access::kReadOnly);
    if (!ledger) return std::unexpected(ledger.error());
    auto trusted = ledger->trusted_keys();
    if (!trusted) return trusted;
    keys = *std::move(trusted);
    // And what it wrote itself.
    const auto streams = ledger->streams();
    if (!streams) return std::unexpected(streams.error());
    for (const ledger::StreamInfo& stream : *streams)
      if (stream.mine &&
          std::ranges::find(keys, stream.public_key, &ledger::TrustedKey::key) == keys.end())
        keys.push_back({stream.public_key, stream.device});
  }
  for (const std::string& file : arguments.all("--key")) {
    const auto key = seal::load_public_key(console.files, file);
    if (!key) return std::unexpected(key.error());
    const auto held = std::ranges::find(keys, *key, &ledger::TrustedKey::key);
    if (held != keys.end() && held->status == ledger::Trust::kRevoked)
      return fail(ErrorKind::kRefused, "this key was revoked", file,
                  "leave it out: what is still believed of it is taken as it is");
    if (held == keys.end()) keys.push_back({*key, std::filesystem::path(file).stem().string()});
  }
  if (keys.empty())
    return fail(ErrorKind::kRefused, "nobody says whose season files to believe", {},
                "give --trusted-by LEDGER, or --key KEY.pub of each tablet");
  return keys;
}

Result<ledger::Ledger> make(const std::string& path, const Keys& keys) {
  auto ledger = ledger::Ledger::create(path);
  if (!ledger) return ledger;
  for (const ledger::TrustedKey& key : keys)
    if (const auto kept = ledger->trust(key); !kept) return std::unexpected(kept.error());
  return ledger;
}

// Tells where the new ledger differs from one it should be equal to; false: it does.
Result<bool> tell_likeness(const ledger::Ledger& made, const ledger::Ledger& like,
                           Console& console) {
  const auto differences = gather::differences(like, made);
  if (!differences) return std::unexpected(differences.error());
  for (const std::string& line : *differences) console.out << line << "\n";
  if (differences->empty()) console.out << "equal to " << like.path() << " in every record\n";
  return differences->empty();
}

Exit fill(ledger::Ledger& ledger, const Arguments& arguments, const ledger::Ledger* like,
          Console& console) {
  Exit exit = Exit::kDone;
  const auto take = [&](const std::vector<std::string>& files, ledger::Branch branch) {
    for (const Refused& refused : take_all(ledger, files, branch, console))
      exit =
          std::max(exit, refuse_file(console, refused.faults, refused.file + " was not taken in"));
  };
  // Branches first: they say which of the other files can be taken.
  take(arguments.all("--branch"), ledger::Branch::kChosen);
  take(arguments.all("FILE"), ledger::Branch::kAny);
  exit = std::max(exit, take_ledgers(ledger, arguments.all("--copy"), console));
  const auto gaps = tell_state(ledger, console);
  if (!gaps) return refuse_file(console, gaps.error(), "the ledger could not be read");
  if (*gaps > 0) exit = std::max(exit, Exit::kFaulty);
  if (like != nullptr) {
    const auto equal = tell_likeness(ledger, *like, console);
    if (!equal) return refuse_file(console, equal.error(), "the two were not compared");
    if (!*equal) exit = std::max(exit, Exit::kFaulty);
  }
  return exit;
}

// A ledger without a record is in nobody's way: the same call with the right files may follow.
Result<bool> removed_if_empty(ledger::Ledger ledger, Console& console) {
  const auto spans = ledger.spans();
  if (!spans) return std::unexpected(spans.error());
  if (!spans->empty()) return false;
  const std::string path = ledger.path();
  { const ledger::Ledger closed = std::move(ledger); }
  for (const char* suffix : {"-wal", "-shm", ""}) {
    const std::string file = path + suffix;
    const auto there = console.files.exists(file);
    if (!there) return there;
    if (!*there) continue;
    if (const auto gone = console.files.remove(file); !gone) return std::unexpected(gone.error());
  }
  return true;
}

Exit run_rebuild(const Arguments& arguments, Console& console) {
  const auto keys = keys_given(arguments, console);
  if (!keys) return refuse_file(console, keys.error(), "nothing was rebuilt");
  std::optional<ledger::Ledger> like;
  if (const auto path = arguments.find("--like")) {
    auto opened = ledger::Ledger::open(*path, ledger::Access::kReadOnly);
    if (!opened) return refuse_file(console, opened.error(), "nothing was rebuilt");
    like = *std::move(opened);
  }
  if (!arguments.has("FILE") && !arguments.has("--copy"))
    return refuse_arguments(console, {ErrorKind::kInvalid, "there is nothing to rebuild from",
                                      "rebuild", "name season files, or a ledger with --copy"});
  auto ledger = make(arguments.text("--ledger"), *keys);
  if (!ledger) return refuse_file(console, ledger.error(), "nothing was rebuilt");
  const Exit exit = fill(*ledger, arguments, like ? &*like : nullptr, console);
  const auto removed = removed_if_empty(*std::move(ledger), console);
  if (!removed) return std::max(exit, refuse_file(console, removed.error(), "nothing was rebuilt"));
  if (*removed) console.err << "nothing was rebuilt\n";
  return exit;
}

}  // namespace

Command rebuild_command() {
  return {
      .name = "rebuild",
      .help = "Make a ledger anew from season files and copies, equal in every record",
      .options =
          {
              {.name = "FILE",
               .value = "FILE",
               .help = "Season file; any number, in any order",
               .repeated = true},
              copy_option(),
              ledger_option("Ledger to make; nothing may be there yet"),
              {.name = "--trusted-by",
               .value = "LEDGER",
               .help = "Believe whom this ledger believes, and what it wrote itself"},
              {.name = "--key",
               .value = "KEY.pub",
               .help = "Believe this tablet too, by its public key",
               .repeated = true},
              {.name = "--branch",
               .value = "FILE",
               .help = "Season file of the branch to be kept of a ledger that went on twice",
               .repeated = true},
              {.name = "--like",
               .value = "LEDGER",
               .help = "Ledger it should be equal to; each difference is told"},
          },
      .run = run_rebuild,
  };
}

}  // namespace ligule::desk
