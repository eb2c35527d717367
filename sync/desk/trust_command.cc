// trust: whose season files this desk takes in.
#include <algorithm>
#include <filesystem>
#include <set>

#include "storage/trial/record_line.h"
#include "sync/desk/ledgers.h"
#include "sync/gather/trusted.h"
#include "sync/seal/keys.h"
#include "sync/seal/season_file.h"

namespace ligule::desk {
namespace {

struct TrustWish {
  seal::PublicKey key{};
  std::optional<std::string> label;
  std::optional<std::string> device;  // as a scanned code calls it
  std::string key_file;
  bool revoke = false;
  bool again = false;
  std::optional<std::int64_t> to_seq;
  std::vector<std::string> to_files;
};

std::unexpected<Error> name_the_file(std::string what, const TrustWish& wish) {
  return fail(ErrorKind::kRefused, std::move(what), wish.key_file,
              "name the last season file to believe with --to-file");
}

// The record that --to-seq names, of the one stream of that key that this desk holds.
Result<ledger::Believed> believed_to(const TrustWish& wish, const ledger::Ledger& ledger) {
  const std::int64_t seq = wish.to_seq.value_or(0);
  const auto streams = ledger.streams();
  if (!streams) return std::unexpected(streams.error());
  std::vector<StreamId> of_key;
  for (const ledger::StreamInfo& stream : *streams)
    if (stream.public_key == wish.key) of_key.push_back(stream.id);
  if (of_key.empty()) return name_the_file("nothing signed by this key was gathered here", wish);
  if (of_key.size() > 1)
    return name_the_file("the key signed " + counted(std::ssize(of_key), "stream") +
                             " here, a number does not say which",
                         wish);
  const auto head = ledger.digest_at(of_key.front(), seq);
  if (!head && head.error().kind == ErrorKind::kNotFound)
    return name_the_file("record " + std::to_string(seq) + " of it is not held here", wish);
  if (!head) return std::unexpected(head.error());
  return ledger::Believed{of_key.front(), seq, *head};
}

// What is believed from now on: of the streams that are named here what is named, of others what
// was believed before; with --to-seq 0 nothing at all.
Result<std::vector<ledger::Believed>> believed_by(const TrustWish& wish,
                                                  std::vector<ledger::Believed> before,
                                                  const ledger::Ledger& ledger,
                                                  files::FileSystem& files) {
  if (wish.to_seq == 0) return std::vector<ledger::Believed>{};
  std::vector<ledger::Believed> named;
  for (const std::string& file : wish.to_files) {
    const auto season = seal::read_season_file(files, file);
    if (!season) return std::unexpected(season.error().front());
    if (season->stream.public_key != wish.key)
      return fail(ErrorKind::kRefused, "the file is signed by another key", file,
                  "name a season file of the tablet whose key is revoked");
    if (std::ranges::find(named, season->span.stream, &ledger::Believed::stream) != named.end())
      return fail(ErrorKind::kRefused, "two files of one stream", file,
                  "name the last one of each that is believed");
    named.push_back(gather::believed_of(*season));
  }
  if (wish.to_seq) {
    const auto to = believed_to(wish, ledger);
    if (!to) return std::unexpected(to.error());
    named.push_back(*to);
  }
  for (const ledger::Believed& each : named)
    std::erase_if(before, [&](const ledger::Believed& old) { return old.stream == each.stream; });
  before.insert(before.end(), named.begin(), named.end());
  return before;
}

void tell_believed(const std::vector<ledger::Believed>& all, Console& console) {
  for (const ledger::Believed& believed : all)
    console.out << "  still believed: records up to " << believed.last << " of stream "
                << believed.stream.text() << ", and no others in their place\n";
}

// Revoked: what of it is believed, and what is held all the same.
Result<void> tell_revoked(const ledger::TrustedKey& key, const ledger::Ledger& ledger,
                          Console& console) {
  console.out << "no longer trusted: " << key.label << ", key " << seal::fingerprint(key.key)
              << "\n";
  tell_believed(key.believed, console);
  if (key.believed.empty()) console.out << "  none of its records are taken in from now on\n";
  const auto doubtful = gather::doubtful(ledger);
  if (!doubtful) return std::unexpected(doubtful.error());
  for (const gather::Doubtful& each : *doubtful)
    if (each.key == key.key) console.out << "  held here, and they count: " << each.line() << "\n";
  return {};
}

Exit keep(const TrustWish& wish, ledger::Ledger& ledger, Console& console) {
  const auto keys = ledger.trusted_keys();
  if (!keys) return refuse_file(console, keys.error(), "nothing was changed");
  const auto held = std::ranges::find(*keys, wish.key, &ledger::TrustedKey::key);
  ledger::TrustedKey key{wish.key, std::filesystem::path(wish.key_file).stem().string()};
  if (wish.device) key.label = *wish.device;
  if (held != keys->end()) key.label = held->label;
  if (wish.label) key.label = *wish.label;
  const bool revoked = held != keys->end() && held->status == ledger::Trust::kRevoked;
  if (revoked && !wish.revoke && !wish.again)
    return refuse_file(console,
                       {ErrorKind::kRefused, "this key was revoked", wish.key_file,
                        "a tablet that was found again is trusted with --again: in all it signs"},
                       "nothing was changed");
  if (wish.revoke) {
    key.status = ledger::Trust::kRevoked;
    auto believed =
        believed_by(wish, held == keys->end() ? std::vector<ledger::Believed>{} : held->believed,
                    ledger, console.files);
    if (!believed) return refuse_file(console, believed.error(), "nothing was changed");
    key.believed = *std::move(believed);
  }
  if (const auto kept = ledger.trust(key); !kept)
    return refuse_file(console, kept.error(), "nothing was changed");
  if (wish.revoke) {
    if (const auto told = tell_revoked(key, ledger, console); !told)
      return refuse_file(console, told.error(), "the ledger could not be read");
    return Exit::kDone;
  }
  console.out << "trusted: " << key.label << ", key " << seal::fingerprint(wish.key) << "\n"
              << "compare these letters with those the tablet shows; if they differ, revoke\n";
  return Exit::kDone;
}

// An option that goes with --revoke, or with its absence, only.
std::optional<Error> out_of_place(const Arguments& arguments) {
  const bool revoke = arguments.has("--revoke");
  for (const char* option : {"--to-seq", "--to-file"})
    if (arguments.has(option) && !revoke)
      return Error{ErrorKind::kInvalid, "it goes with --revoke only", option,
                   "a key that is trusted is trusted for all its records"};
  if (arguments.has("--to-seq") && arguments.has("--to-file"))
    return Error{ErrorKind::kInvalid, "it does not go with --to-file", "--to-seq",
                 "the file tells its last record"};
  if (arguments.has("--again") && revoke)
    return Error{ErrorKind::kInvalid, "it does not go with --revoke", "--again",
                 "give one of the two"};
  return std::nullopt;
}

// Every key that was ever trusted here, and what is held of it and of others.
Exit list_keys(const Arguments& arguments, Console& console) {
  for (const char* option :
       {"KEY.pub", "--text", "--label", "--revoke", "--to-seq", "--to-file", "--again"})
    if (arguments.has(option))
      return refuse_arguments(console, {ErrorKind::kInvalid, "it does not go with --list", option,
                                        "list the keys first, then name the one"});
  const auto ledger = ledger::Ledger::open(arguments.text("--ledger"), ledger::Access::kReadOnly);
  if (!ledger) return refuse_file(console, ledger.error(), "nothing was listed");
  const auto keys = ledger->trusted_keys();
  if (!keys) return refuse_file(console, keys.error(), "nothing was listed");
  const auto spans = ledger->spans();
  if (!spans) return refuse_file(console, spans.error(), "nothing was listed");
  const auto streams = ledger->streams();
  if (!streams) return refuse_file(console, streams.error(), "nothing was listed");
  const auto held_of = [&](const ledger::PublicKey& key) {
    for (const ledger::Span& span : *spans) {
      const auto stream = std::ranges::find(*streams, span.stream, &ledger::StreamInfo::id);
      if (stream == streams->end() || stream->public_key != key) continue;
      console.out << "  held: records " << span.first << " to " << span.last << " of stream "
                  << span.stream.text() << ", which calls itself " << stream->device << "\n";
    }
  };
  for (const ledger::TrustedKey& key : *keys) {
    const bool revoked = key.status == ledger::Trust::kRevoked;
    console.out << (revoked ? "revoked: " : "trusted: ") << key.label << ", key "
                << seal::fingerprint(key.key) << "\n";
    held_of(key.key);
    tell_believed(key.believed, console);
  }
  std::set<ledger::PublicKey> others;  // of what this ledger wrote, or was vouched for by a person
  for (const ledger::StreamInfo& stream : *streams) others.insert(stream.public_key);
  for (const ledger::TrustedKey& key : *keys) others.erase(key.key);
  for (const ledger::PublicKey& key : others) {
    console.out << "not trusted by key: " << seal::fingerprint(key) << "\n";
    held_of(key);
  }
  if (keys->empty()) console.out << "no key was ever trusted here\n";
  return Exit::kDone;
}

Exit run_trust(const Arguments& arguments, Console& console) {
  if (arguments.has("--list")) return list_keys(arguments, console);
  TrustWish wish;
  wish.key_file = arguments.text("KEY.pub");
  const auto label = name_given(arguments, "--label");
  if (!label) return refuse_arguments(console, label.error());
  wish.label = *label;
  wish.revoke = arguments.has("--revoke");
  wish.again = arguments.has("--again");
  const auto to_seq = arguments.whole_number("--to-seq", 0, kMostRecords);
  if (!to_seq) return refuse_arguments(console, to_seq.error());
  if (const auto fault = out_of_place(arguments)) return refuse_arguments(console, *fault);
  wish.to_seq = *to_seq;
  wish.to_files = arguments.all("--to-file");
  const bool scanned = arguments.has("--text");
  if (scanned == arguments.has("KEY.pub"))
    return refuse_arguments(console,
                            {ErrorKind::kInvalid, "which key is meant is not said", "trust",
                             "give KEY.pub, or --text with what the tablet's code says"});
  if (scanned) {
    const auto named = seal::parse_key_line(arguments.text("--text"), "--text");
    if (!named) return refuse_file(console, named.error(), "nothing was changed");
    wish.key = named->key;
    if (cleaned(named->device) != named->device || named->device.empty())
      return refuse_file(console,
                         {ErrorKind::kInvalid, "the tablet's name in it is none", "--text",
                          "scan the code that Tablet, Code shows, whole"},
                         "nothing was changed");
    wish.device = named->device;
    wish.key_file = "--text";
  } else {
    const auto key = seal::load_public_key(console.files, wish.key_file);
    if (!key) return refuse_file(console, key.error(), "nothing was changed");
    wish.key = *key;
  }
  auto ledger = open_or_create(arguments.text("--ledger"), console);
  if (!ledger) return refuse_file(console, ledger.error(), "nothing was changed");
  return keep(wish, *ledger, console);
}

}  // namespace

Command trust_command() {
  return {
      .name = "trust",
      .help = "Say whose season files may be gathered, by the public key of a tablet",
      .options =
          {
              {.name = "KEY.pub",
               .value = "KEY.pub",
               .help = "Public key of the tablet, LEDGER.pub beside its ledger"},
              {.name = "--text",
               .value = "TEXT",
               .help = "In its place: what a scanner reads from the code that Tablet, Code shows"},
              ledger_option("Ledger of the desk; made when it is not there"),
              {.name = "--list",
               .help = "List the keys, what is held of each and what is believed"},
              {.name = "--label", .value = "TEXT", .help = "What the desk calls this tablet"},
              {.name = "--revoke", .help = "Trust the key no longer: a tablet was lost"},
              {.name = "--to-seq",
               .value = "N",
               .help = "With --revoke: the last record still believed, of what is held here (0: "
                       "none at all)"},
              {.name = "--to-file",
               .value = "FILE",
               .help = "With --revoke: the last season file still believed, one of each stream",
               .repeated = true},
              {.name = "--again", .help = "Trust a revoked key again, in all it signs"},
          },
      .run = run_trust,
  };
}

}  // namespace ligule::desk
