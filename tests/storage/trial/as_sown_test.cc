#include "storage/trial/as_sown.h"

#include <gtest/gtest.h>

#include <functional>

#include "storage/trial/record_line.h"

namespace ligule {
namespace {

AsSown holds() {
  const TrialId trial = trial_id({"HILL", "north", "TF24"});
  return {plot_id(trial, "204"), AsSownStatus::kHolds, entry_id(trial, "B"),
          date::year{2025} / 4 / 2, "packets 204 and 205 were swapped"};
}

Record written(const AsSown& what) {
  Record record;
  record.seq = 1;
  record.at.local_date = date::year{2026} / 5 / 18;
  write_as_sown(what, record);
  return record;
}

TEST(AsSown, EachStatusReadsBackFromTheRecordAndItsLine) {
  for (const AsSownStatus status :
       {AsSownStatus::kAsPlanned, AsSownStatus::kHolds, AsSownStatus::kUnknown,
        AsSownStatus::kReseeded, AsSownStatus::kAbandoned}) {
    AsSown what = holds();
    what.status = status;
    if (status != AsSownStatus::kHolds) what.holds.reset();
    const Record record = parse_record(record_body(written(what)).value()).value();
    EXPECT_EQ(read_as_sown(record).value(), what) << name_of(status);
    EXPECT_EQ(parse_as_sown_status(name_of(status)), status);
  }
}

TEST(AsSown, RefusesRecordsThatDoNotSayIt) {
  const struct {
    const char* name;
    std::function<void(Record&)> spoil;
  } cases[] = {
      {"another kind", [](Record& r) { r.kind = kind::kEvent; }},
      {"no plot", [](Record& r) { r.subject.reset(); }},
      {"no status", [](Record& r) { r.entered = "swapped"; }},
      {"no details", [](Record& r) { r.details.clear(); }},
      {"no object", [](Record& r) { r.details = "[]"; }},
      {"no date", [](Record& r) { r.details = R"({"since":"spring"})"; }},
      {"no entry", [](Record& r) { r.details = R"({"since":"2025-04-02"})"; }},
      {"bad entry", [](Record& r) { r.details = R"({"since":"2025-04-02","entry":"B"})"; }},
      {"entry of an unknown plot", [](Record& r) { r.entered = "unknown"; }},
  };
  for (const auto& c : cases) {
    Record record = written(holds());
    c.spoil(record);
    const auto what = read_as_sown(record);
    ASSERT_FALSE(what.has_value()) << c.name;
    EXPECT_EQ(what.error().kind, ErrorKind::kInvalid) << c.name;
  }
}

}  // namespace
}  // namespace ligule
