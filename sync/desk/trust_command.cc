// trust: whose season files this desk takes in.
#include <algorithm>
#include <filesystem>

#include "sync/desk/ledgers.h"
#include "sync/seal/keys.h"

namespace ligule::desk {
namespace {

struct Wish {
  seal::PublicKey key{};
  std::optional<std::string> label;
  std::string key_file;
  bool revoke = false;
  std::int64_t to_seq = 0;
};

Exit keep(const Wish& wish, ledger::Ledger& ledger, Console& console) {
  const auto keys = ledger.trusted_keys();
  if (!keys) return refuse_file(console, keys.error(), "nothing was changed");
  const auto held = std::ranges::find(*keys, wish.key, &ledger::TrustedKey::key);
  ledger::TrustedKey key{wish.key, std::filesystem::path(wish.key_file).stem().string(),
                         ledger::Trust::kTrusted, std::nullopt};
  if (held != keys->end()) key.label = held->label;
  if (wish.label) key.label = *wish.label;
  if (wish.revoke) {
    key.status = ledger::Trust::kRevoked;
    key.trusted_to_seq = wish.to_seq;
  }
  if (const auto kept = ledger.trust(key); !kept) {
    return refuse_file(console, kept.error(), "nothing was changed");
  }
  const std::string name = key.label + ", key " + seal::fingerprint(wish.key);
  if (wish.revoke) {
    console.out << "no longer trusted: " << name << "; records after " << wish.to_seq
                << " are refused from now on\n";
  } else {
    console.out << "trusted: " << name << "\n"
                << "compare these letters with those the tablet shows; if they differ, revoke\n";
  }
  return Exit::kDone;
}

Exit run_trust(const Arguments& arguments, Console& console) {
  Wish wish;
  wish.key_file = arguments.text("KEY.pub");
  const auto label = name_given(arguments, "--label");
  if (!label) return refuse_arguments(console, label.error());
  wish.label = *label;
  wish.revoke = arguments.has("--revoke");
  const auto to_seq = arguments.whole_number("--to-seq", 0, kMostRecords);
  if (!to_seq) return refuse_arguments(console, to_seq.error());
  if (to_seq->has_value() && !wish.revoke) {
    return refuse_arguments(console, {ErrorKind::kInvalid, "it goes with --revoke only", "--to-seq",
                                      "a key that is trusted is trusted for all its records"});
  }
  wish.to_seq = to_seq->value_or(0);
  const auto key = seal::load_public_key(console.files, wish.key_file);
  if (!key) return refuse_file(console, key.error(), "nothing was changed");
  wish.key = *key;
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
               .help = "Public key of the tablet, LEDGER.pub beside its ledger",
               .required = true},
              ledger_option("Ledger of the desk; made when it is not there"),
              {.name = "--label", .value = "TEXT", .help = "What the desk calls this tablet"},
              {.name = "--revoke", .help = "Trust the key no longer: a tablet was lost"},
              {.name = "--to-seq",
               .value = "N",
               .help = "With --revoke: the last record still believed (0: none)"},
          },
      .run = run_trust,
  };
}

}  // namespace ligule::desk
