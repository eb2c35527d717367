// Seals a small ledger with every kind of cell in it, for programs that know nothing of ours to
// check: season_sample FOLDER leaves FOLDER/north.ligule, .pub, .key and the season file, and
// prints the file's name.
#include <cstdio>

#include "sync/seal/begin.h"
#include "sync/seal/season_file.h"
#include "tests/storage/ledger/sample.h"

namespace {

using namespace ligule;
using ledger::sample::need;

Record noted(std::uint64_t n, const char* plot, const char* words) {
  Record record = ledger::sample::reading(n, plot, "note", words);
  record.value.reset();
  return record;
}

int seal_sample(const std::string& folder) {
  const auto files = files::real_file_system();
  auto ledger = need(ledger::Ledger::create(folder + "/north.ligule"));
  need(seal::begin_stream(ledger, *files, {"North 1", "ligule test", ledger::sample::at(0)}));
  const Record stand = ledger::sample::reading(11, "101", "percent_stand", "85");
  Record weight = ledger::sample::reading(12, "102", "gross_weight", "12.35");
  weight.unit = "lb";
  weight.raw = "ST,GS,+  12.35 lb";
  weight.source = Source::kScale;
  weight.answers = {{"far_from_last", "seen_again"}, {"light_for_plot", "weighed_again"}};
  need(ledger.append({ledger::sample::plan_record(10, ledger::sample::plan()), stand, weight,
                      noted(13, "201", "geese, \"many\" of them"), noted(14, "202", "=1+1"),
                      noted(15, "101",
                            "caf\xc3\xa9 \xe2\x80\x94 3 \xc2\xb0"
                            "C, 'dry'; a|b\\c")}));
  need(ledger.append(
      {ledger::sample::correction(16, stand, "80"), ledger::sample::withdrawal(17, weight)}));
  const auto key = need(seal::key_of_stream(ledger, *files));
  const auto sealed = need(seal::write_season_file(ledger, *files, key, {folder, 1, UtcInstant{}}));
  std::puts(sealed.file.filename().string().c_str());
  return 0;
}

}  // namespace

int main(int argc, char** argv) {
  if (argc != 2) return 2;
  return seal_sample(argv[1]);
}
