// Writes the season of three tablets (tests/sync/desk/season_of_three.h) for programs that know
// nothing of ours to check: three_tablets_sample FOLDER leaves FOLDER/WHICH/season-....zip and
// FOLDER/WHICH/signer.pub for each file of it, and prints each WHICH.
#include <cstdio>
#include <filesystem>

#include "sync/seal/keys.h"
#include "tests/sync/desk/season_of_three.h"

namespace {

using namespace ligule;
using ledger::sample::need;

void write_one(const std::filesystem::path& folder, const std::string& which,
               const std::string& bytes) {
  const auto season = seal::read_season_bytes(bytes, which);
  if (!season) return std::puts(one_line(season.error().front()).c_str()), void();
  std::filesystem::create_directory(folder / which);
  ledger::sample::write_bytes((folder / which / (season->name + ".zip")).string(), bytes);
  ledger::sample::write_bytes((folder / which / "signer.pub").string(),
                              seal::public_key_text(season->stream.public_key));
  std::puts(which.c_str());
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  const desk::SeasonOfThree season;
  for (const auto& [which, bytes] : season.files()) write_one(argv[1], which, bytes);
  write_one(argv[1], "b-whole", season.missing());
  return 0;
}
