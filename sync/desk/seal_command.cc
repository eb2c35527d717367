// seal: what a ledger recorded, as a season file.
#include "sync/desk/ledgers.h"
#include "sync/seal/begin.h"
#include "sync/seal/season_file.h"

namespace ligule::desk {
namespace {

void tell(const seal::Sealed& sealed, const seal::SecretKey& key, Console& console) {
  const std::string records =
      "records " + std::to_string(sealed.span.first) + " to " + std::to_string(sealed.span.last);
  switch (sealed.outcome) {
    case seal::SealOutcome::kWritten:
      console.out << "sealed " << records << ": " << sealed.file.string() << " ("
                  << counted(static_cast<std::int64_t>(sealed.bytes), "byte")
                  << "), read back and verified\n";
      break;
    case seal::SealOutcome::kCopied:
      console.out << "nothing new since the last seal; the folder had no copy, so the same bytes "
                     "were written: "
                  << sealed.file.string() << ", read back and verified\n";
      break;
    case seal::SealOutcome::kNothingNew:
      console.out << "nothing new to seal: " << sealed.file.string() << " holds " << records
                  << " already\n";
      break;
  }
  console.out << "signed with key " << seal::fingerprint(key.public_key()) << "\n";
}

Exit run_seal(const Arguments& arguments, Console& console) {
  const auto first = arguments.whole_number("--from", 1, kMostRecords);
  if (!first) return refuse_arguments(console, first.error());
  auto ledger = open_to_write(arguments.text("--ledger"), console);
  if (!ledger) return refuse_file(console, ledger.error(), "nothing was sealed");
  const auto key = seal::key_of_stream(*ledger, console.files);
  if (!key) return refuse_file(console, key.error(), "nothing was sealed");
  const std::string folder = arguments.text("--out");
  if (const auto made = console.files.make_folders(folder); !made) {
    return refuse_file(console, made.error(), "nothing was sealed");
  }
  const auto sealed = seal::write_season_file(*ledger, console.files, *key,
                                              {folder, first->value_or(1), wall_clock()});
  if (!sealed) return refuse_file(console, sealed.error(), "nothing was sealed");
  tell(*sealed, *key, console);
  return Exit::kDone;
}

}  // namespace

Command seal_command() {
  return {
      .name = "seal",
      .help = "Write what a ledger recorded as a signed season file, read it back and verify it",
      .options =
          {
              ledger_option("Ledger of the tablet or desk"),
              {.name = "--out", .value = "DIR", .help = "Folder for the file", .required = true},
              {.name = "--from",
               .value = "N",
               .help = "First record (1: the whole stream, so that the file is complete alone)",
               .standard = "1"},
          },
      .run = run_seal,
  };
}

}  // namespace ligule::desk
