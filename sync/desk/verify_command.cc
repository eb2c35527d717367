// verify: whether season files hold, byte for byte, and who signed them.
#include <algorithm>
#include <optional>

#include "sync/desk/ledgers.h"
#include "sync/seal/season_file.h"

namespace ligule::desk {
namespace {

using Keys = std::vector<ledger::TrustedKey>;

// Says who signed; false when the desk revoked that key before the file's last record.
bool tell_signer(const seal::SeasonFile& season, const Keys& keys, const std::string& file,
                 Console& console) {
  const std::string print = seal::fingerprint(season.stream.public_key);
  const auto key = std::ranges::find(keys, season.stream.public_key, &ledger::TrustedKey::key);
  if (key == keys.end()) {
    console.out << "  signer not known here: " << print << "\n";
    return true;
  }
  const std::int64_t to_seq = key->trusted_to_seq.value_or(0);
  if (key->status == ledger::Trust::kTrusted || season.span.last <= to_seq) {
    console.out << "  signer: " << key->label << ", key " << print << ", trusted here\n";
    return true;
  }
  console.err << one_line({ErrorKind::kNotTrusted,
                           "key " + print + " (" + key->label +
                               ") is trusted no further than record " + std::to_string(to_seq),
                           file, "use a file sealed before the key was revoked"})
              << "\n";
  return false;
}

Result<Keys> known_keys(const Arguments& arguments) {
  const auto path = arguments.find("--ledger");
  if (!path) return Keys{};
  const auto ledger = ledger::Ledger::open(*path, ledger::Access::kReadOnly);
  if (!ledger) return std::unexpected(ledger.error());
  return ledger->trusted_keys();
}

Exit run_verify(const Arguments& arguments, Console& console) {
  const auto keys = known_keys(arguments);
  if (!keys) return refuse_file(console, keys.error(), "nothing was verified");
  Exit exit = Exit::kDone;
  for (const std::string& file : arguments.all("FILE")) {
    const auto season = seal::read_season_file(console.files, file);
    if (!season) {
      const bool judged = exit_of_file(season.error()) == Exit::kFaulty;
      exit = std::max(exit, refuse_file(console, season.error(),
                                        file + (judged ? " does not hold" : " was not verified")));
      continue;
    }
    console.out << file << ": holds\n";
    for (const std::string& line : season->findings()) console.out << "  " << line << "\n";
    if (!tell_signer(*season, *keys, file, console)) exit = std::max(exit, Exit::kFaulty);
  }
  return exit;
}

}  // namespace

Command verify_command() {
  return {
      .name = "verify",
      .help = "Prove that season files are whole and unchanged, and say who signed them",
      .options =
          {
              {.name = "FILE",
               .value = "FILE",
               .help = "Season file",
               .required = true,
               .repeated = true},
              {.name = "--ledger",
               .value = "LEDGER",
               .help = "Ledger whose trusted keys name the signer"},
          },
      .run = run_verify,
  };
}

}  // namespace ligule::desk
