// Seals a small ledger with every kind of cell in it, for programs that know nothing of ours to
// check: season_sample FOLDER leaves FOLDER/north.ligule, .pub, .key and the season file, and
// prints the file's name.
#include <array>
#include <cstdio>
#include <vector>

#include "storage/trial/plan.h"
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

Record initials_of(std::uint64_t n, const char* initials) {
  Record record;
  record.id = {ledger::sample::id(n)};
  record.kind = kind::kPerson;
  record.at = ledger::sample::at(static_cast<std::int64_t>(n));
  record.person = person_id(initials);
  record.subject = record.person->uuid;
  record.entered = initials;
  return record;
}

Record stand_scale(std::uint64_t n) {
  Scale scale;
  scale.code = "percent_stand";
  scale.kind = ScaleKind::kPercent;
  scale.direction = Direction::kHighIsBest;
  scale.units = {"%"};
  scale.minimum = 0;
  scale.maximum = 100;
  scale.definition = "ground that the sown stand covers";
  scale.source = "common practice, no source";
  Record record;
  record.id = {ledger::sample::id(n)};
  record.kind = kind::kDefinition;
  record.at = ledger::sample::at(static_cast<std::int64_t>(n));
  record.entered = scale.code;
  record.details = scale_text(scale);
  record.definition = sha256(record.details).hex();
  return record;
}

// A rating by two people and a cutting, so that every wide table has a row.
std::vector<Record> rated_and_cut() {
  std::uint64_t n = 30;
  std::vector<Record> records{initials_of(n++, "AB"), initials_of(n++, "CD"), stand_scale(n++)};
  const std::string scale = records.back().definition;
  constexpr std::array<std::array<const char*, 3>, 3> kStands{
      {{"102", "70", "75"}, {"201", "60", "60"}, {"202", "90", "85"}}};
  for (const auto& [plot, first, second] : kStands) {
    records.push_back(ledger::sample::reading(n++, plot, "percent_stand", first));
    records.push_back(ledger::sample::reading(n++, plot, "percent_stand", second));
    records.back().person = person_id("CD");
    records.back().purpose = Purpose::kSecond;
    for (auto at = records.end() - 2; at != records.end(); ++at) {
      at->definition = scale;
      at->unit = "%";
    }
  }
  const auto weighed = [&](const Uuid& subject, const char* measure, const char* kilograms) {
    Record record = ledger::sample::reading(n++, "101", measure, kilograms);
    record.subject = subject;
    record.occasion = ledger::sample::cutting();
    record.unit = "kg";
    records.push_back(record);
    return record.id;
  };
  const Uuid plot = ledger::sample::plot("101").uuid;
  weighed(plot, "gross_weight", "6.2");
  const RecordId bag = weighed(plot, "bag_number", "17");
  records.back().unit.clear();
  records.back().value.reset();
  weighed(bag.uuid, "sample_fresh", "0.45");
  weighed(bag.uuid, "sample_dry", "0.15");
  return records;
}

int seal_sample(const std::string& folder) {
  const auto files = files::real_file_system();
  auto ledger = need(ledger::Ledger::create(folder + "/north.ligule"));
  need(seal::begin_stream(ledger, *files, {"North 1", "ligule test", ledger::sample::at(0)}));
  Record stand = ledger::sample::reading(11, "101", "percent_stand", "85");
  stand.definition = stand_scale(0).definition;
  stand.unit = "%";
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
  need(ledger.append(rated_and_cut()));
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
