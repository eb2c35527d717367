// verify: whether season files hold, byte for byte, and who signed them.
#include <algorithm>
#include <optional>

#include "sync/desk/ledgers.h"
#include "sync/gather/trusted.h"
#include "sync/seal/season_file.h"

namespace ligule::desk {
namespace {

// Says who signed.
enum class SignedBy { kTrusted, kStranger, kRevoked };
Result<SignedBy> tell_signer(const seal::SeasonFile& season, const ledger::Ledger* ledger,
                             const std::string& file, Console& console) {
  const std::string print = seal::fingerprint(season.stream.public_key);
  std::optional<gather::Signer> signer;
  if (ledger != nullptr) {
    auto known = gather::signer_of(*ledger, season.stream, season.span);
    if (!known) return std::unexpected(known.error());
    signer = *std::move(known);
  }
  if (!signer) {
    console.out << "  signer not known here: " << print << "\n";
    return SignedBy::kStranger;
  }
  if (!signer->refused) {
    console.out << "  signer: " << signer->label << ", key " << print << ", trusted here\n";
    return SignedBy::kTrusted;
  }
  Error refused = *signer->refused;
  refused.where = file;
  console.err << one_line(refused) << "\n";
  return SignedBy::kRevoked;
}

// Whether the wide tables are those that this program makes of the records.
std::string tables_line(const seal::SeasonFile& season) {
  const auto differing = seal::differing_tables(season);
  if (!differing) return "wide tables: made by other rules than this program's, not made again";
  if (differing->empty()) return "wide tables: as this program makes them of the records";
  std::string line =
      "wide tables: not as this program makes them of the records, which are to be believed:";
  for (const std::string& table : *differing) line += " " + table;
  return line;
}

Exit run_verify(const Arguments& arguments, Console& console) {
  std::optional<ledger::Ledger> ledger;
  if (const auto path = arguments.find("--ledger")) {
    auto opened = ledger::Ledger::open(*path, ledger::Access::kReadOnly);
    if (!opened) return refuse_file(console, opened.error(), "nothing was verified");
    ledger = *std::move(opened);
  }
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
    const auto vouched = tell_signer(*season, ledger ? &*ledger : nullptr, file, console);
    if (!vouched) return refuse_file(console, vouched.error(), "the ledger could not be read");
    if (*vouched == SignedBy::kRevoked) exit = std::max(exit, Exit::kFaulty);
    // What a stranger signed may be made to keep us busy.
    if (*vouched == SignedBy::kTrusted && !season->tables.empty())
      console.out << "  " << tables_line(*season) << "\n";
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
