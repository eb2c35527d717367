#include "sync/gather/clock.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/as_sown.h"
#include "storage/trial/details.h"
#include "tests/storage/ledger/sample.h"

namespace ligule::gather {
namespace {

using ledger::Ledger;
using ledger::sample::at;
using ledger::sample::error_line;
using ledger::sample::need;
using ledger::sample::trial;
using std::chrono::hours;
using std::chrono::minutes;
using std::chrono::seconds;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

// A tablet whose ids are made by its clock, as they are in the field.
class Tablet {
 public:
  Tablet(const std::string& path, std::uint64_t n, const std::string& name, std::int64_t begins = 0)
      : ledger_(need(Ledger::create(path))),
        ids_([n, k = std::uint64_t{0}]() mutable { return n * 1000 + ++k; }) {
    ledger::StreamStart start = ledger::sample::start(n, name);
    start.at = at(begins);
    start.id = StreamId{ids_.next(start.at.utc)};
    start.record = RecordId{ids_.next(start.at.utc)};
    need(ledger_.start_stream(start));
  }
  Record reading_at(std::int64_t second, const std::string& plot = "101") {
    return stamped(ledger::sample::reading(1, plot, "percent_stand", "80"), second);
  }
  Record stamped(Record record, std::int64_t second) {
    record.at = at(second);
    record.id = RecordId{ids_.next(record.at.utc)};
    return record;
  }
  void keep(std::vector<Record> records) { need(ledger_.append(std::move(records))); }
  void keep_shift(const ClockShift& shift, std::int64_t second) {
    Record record;
    record.person = person_id("LQ");
    record.reason = "by the radio";
    write_clock_shift(shift, record);
    keep({stamped(record, second)});
  }
  Ledger& ledger() { return ledger_; }
  UuidSequence& ids() { return ids_; }
  StreamId stream() { return ledger_.my_stream()->id; }
  std::vector<std::string> odd(std::optional<std::int64_t> now = {}) {
    std::optional<UtcInstant> instant;
    if (now) instant = at(*now).utc;
    return need(stream_clocks(ledger_, instant)).at(0).odd;
  }

 private:
  Ledger ledger_;
  UuidSequence ids_;
};

class Clock : public testing::Test {
 protected:
  ledger::sample::Folder folder_{true};
  Tablet tablet_{folder_.file("a.ledger"), 7, "Tab A"};
};

// --- what looks odd

TEST_F(Clock, OneThatGoesOnIsNotOdd) {
  // Tenths of a second back are a network that sets the clock.
  Record back = tablet_.reading_at(20);
  back.at.utc -= std::chrono::milliseconds(10'500);
  tablet_.keep({tablet_.reading_at(10), back, tablet_.reading_at(10)});
  const auto clocks = need(stream_clocks(tablet_.ledger(), at(11).utc));
  ASSERT_EQ(clocks.size(), 1U);
  EXPECT_EQ(clocks[0].stream.device, "Tab A");
  EXPECT_EQ(clocks[0].records, 4);
  EXPECT_THAT(clocks[0].odd, IsEmpty());
  EXPECT_THAT(clocks[0].said, IsEmpty());
}

TEST_F(Clock, OneThatWasSetBackIsOddByItsTimesAndItsIds) {
  tablet_.keep({tablet_.reading_at(7200), tablet_.reading_at(3599), tablet_.reading_at(3700),
                tablet_.reading_at(9000), tablet_.reading_at(9001)});
  // 12:00:00 UTC is 08:00 on the wall.
  EXPECT_THAT(tablet_.odd(),
              ElementsAre("record 3 is stamped 2026-05-04 08:59, 1:00:01 before record 2",
                          "records 3 to 4: the ids were made up to 1:00:01 after the times say"));
  // Put right, it goes on, and what its ids say is explained.
  tablet_.keep_shift({tablet_.stream(), 3, 4, seconds{3601}}, 9100);
  EXPECT_THAT(tablet_.odd(), IsEmpty());
  EXPECT_THAT(need(stream_clocks(tablet_.ledger(), {})).at(0).said,
              ElementsAre(HasSubstr("records 3 to 4: put right by +1:00:01, says ")));
}

TEST_F(Clock, IdsThatWereMadeBeforeTheTimesAreOdd) {
  Record early = tablet_.reading_at(10);
  early.at = at(100);
  tablet_.keep({early});
  EXPECT_THAT(tablet_.odd(),
              ElementsAre("record 2: the ids were made up to 0:01:30 before the times say"));
  Record within = tablet_.reading_at(200);
  within.at = at(259);
  tablet_.keep({within});
  EXPECT_EQ(tablet_.odd().size(), 1U);
}

TEST_F(Clock, TimesAfterNowAreOddAMinuteOnAndMore) {
  tablet_.keep({tablet_.reading_at(100), tablet_.reading_at(200), tablet_.reading_at(300)});
  EXPECT_THAT(tablet_.odd(241), IsEmpty());
  EXPECT_THAT(tablet_.odd(240),
              ElementsAre("record 4 is stamped after now, up to 2026-05-04 08:05"));
  EXPECT_THAT(tablet_.odd(0),
              ElementsAre("records 2 to 4 are stamped after now, up to 2026-05-04 08:05"));
  EXPECT_THAT(tablet_.odd(), IsEmpty());
}

TEST_F(Clock, WhatWasTakenFromAFileHasTheTimesOfTheFile) {
  Record weight = tablet_.reading_at(10);
  weight.source = Source::kImported;
  weight.at = at(-864000);
  Record run = ledger::sample::event(1, "x");
  run.kind = kind::kHarvestRun;
  run.details = R"({"file":"w.csv"})";
  run = tablet_.stamped(run, 11);
  run.at = at(864000);
  tablet_.keep({weight, run, tablet_.reading_at(12)});
  EXPECT_THAT(tablet_.odd(100), IsEmpty());
}

TEST_F(Clock, ManyOddPlacesAreCounted) {
  std::vector<Record> records;
  records.reserve(25);
  for (std::int64_t n = 0; n < 25; ++n) records.push_back(tablet_.reading_at(n % 2 == 0 ? 40 : 10));
  tablet_.keep(records);
  const auto odd = tablet_.odd();
  ASSERT_EQ(odd.size(), 11U);
  EXPECT_EQ(odd.back(), "and 2 more like these");
}

TEST_F(Clock, WhatIsSaidOfATabletThatIsNotHeldStandsAlone) {
  const StreamId unknown{uuid_v5(Uuid{}, "unknown")};
  tablet_.keep_shift({unknown, 1, 3, -hours{1}}, 10);
  tablet_.keep_shift({unknown, 2, 2, hours{0}}, 20);
  const auto clocks = need(stream_clocks(tablet_.ledger(), {}));
  ASSERT_EQ(clocks.size(), 2U);
  const auto& alone = clocks[0].stream.id == unknown ? clocks[0] : clocks[1];
  EXPECT_EQ(alone.stream.device, "");
  EXPECT_EQ(alone.records, 0);
  EXPECT_THAT(alone.said,
              ElementsAre("records 1 to 3: put right by -1:00:00, says " + person_id("LQ").text() +
                              " on Tab A, 2026-05-04 08:00: by the radio",
                          HasSubstr("record 2: nothing is put right")));
}

// --- whose clock

TEST_F(Clock, ATabletIsNamedOrItsStreamIs) {
  EXPECT_EQ(need(stream_of_tablet(tablet_.ledger(), "Tab A")), tablet_.stream());
  EXPECT_THAT(error_line(stream_of_tablet(tablet_.ledger(), "Tab B")),
              testing::AllOf(testing::StartsWith("not found: "),
                             HasSubstr("nothing of a tablet called Tab B is held (it holds records "
                                       "of Tab A)")));
  Tablet twin(folder_.file("b.ledger"), 8, "Tab A", 50);
  const auto stream = *twin.ledger().my_stream();
  need(tablet_.ledger().absorb(stream, 1, Digest{},
                               ledger::sample::bodies(twin.ledger(), stream.id, 1, 1)));
  EXPECT_THAT(error_line(stream_of_tablet(tablet_.ledger(), "Tab A")),
              testing::AllOf(testing::StartsWith("conflict: "), HasSubstr("wrote 2 streams"),
                             HasSubstr(tablet_.stream().text()), HasSubstr(stream.id.text())));
}

// --- what a shift changes

TEST_F(Clock, WhatChangesIsToldBeforeItIsKept) {
  // 20:00, 23:30 and 23:59 on the wall of 4 May, and 00:10 of the next day.
  tablet_.keep({tablet_.reading_at(43200), tablet_.reading_at(55800), tablet_.reading_at(57540),
                tablet_.reading_at(58200)});
  const auto change = need(clock_change(tablet_.ledger(), {tablet_.stream(), 2, 4, hours{1}}));
  EXPECT_EQ(change.records, 3);
  EXPECT_THAT(change.lines(), ElementsAre("first 2026-05-04 20:00 -> 2026-05-04 21:00",
                                          "last 2026-05-04 23:59 -> 2026-05-05 00:59",
                                          "2 of 2026-05-04 come to 2026-05-05"));
  EXPECT_EQ(need(tablet_.ledger().of_kind(kind::kClockShift)).size(), 0U);
  const auto little = need(clock_change(tablet_.ledger(), {tablet_.stream(), 2, 2, minutes{-1}}));
  EXPECT_THAT(little.lines(),
              ElementsAre("first 2026-05-04 20:00 -> 2026-05-04 19:59",
                          "last 2026-05-04 20:00 -> 2026-05-04 19:59", "no day changes"));
}

// Proves: what counts now is told, and that nothing is added to it.
TEST_F(Clock, WhatWasPutRightBeforeIsReplaced) {
  tablet_.keep({tablet_.reading_at(10), tablet_.reading_at(20)});
  tablet_.keep_shift({tablet_.stream(), 2, 2, hours{2}}, 30);
  const auto change = need(clock_change(tablet_.ledger(), {tablet_.stream(), 2, 3, hours{1}}));
  EXPECT_EQ(change.shifted_already, 1);
  EXPECT_THAT(change.lines(),
              ElementsAre("first 2026-05-04 08:00 -> 2026-05-04 09:00",
                          "last 2026-05-04 10:00 -> 2026-05-04 09:00",
                          HasSubstr("1 of them were put right before"), "no day changes"));
}

TEST_F(Clock, DaysThatSomebodySaidAreToLookAt) {
  Scale heading;
  heading.code = "heading";
  heading.kind = ScaleKind::kReached;
  heading.steps = {{"not_yet", 0, "not yet"}, {"reached", 1, "reached"}};
  heading.definition = "half of the heads are out";
  heading.source = "common practice, no source";
  Record definition;
  definition.kind = kind::kDefinition;
  definition.entered = heading.code;
  definition.details = scale_text(heading);
  definition.definition = sha256(definition.details).hex();
  Record visit = tablet_.reading_at(10);
  visit.measure = "heading";
  visit.definition = definition.definition;
  Record sown;
  sown.trial = trial();
  write_as_sown({ledger::sample::plot("101"),
                 AsSownStatus::kUnknown,
                 {},
                 parse_date("2026-05-04").value(),
                 "seen"},
                sown);
  Record spray = ledger::sample::event(1, "spray");
  spray.details = R"({"ended":"08:10","no_entry":"until","no_entry_until":"2026-05-05 08:00","on":)"
                  R"("2026-05-04"})";
  Record imported = tablet_.reading_at(11);
  imported.source = Source::kImported;
  tablet_.keep({tablet_.stamped(definition, 9), tablet_.stamped(visit, 10),
                tablet_.stamped(visit, 11), tablet_.stamped(sown, 12), tablet_.stamped(spray, 13),
                tablet_.stamped(visit, 14), tablet_.stamped(imported, 15)});
  const auto change = need(clock_change(tablet_.ledger(), {tablet_.stream(), 1, 8, hours{1}}));
  EXPECT_THAT(
      change.look_at,
      ElementsAre("3 of records 3 to 7: heading, the day of a visit; it stays as it was said",
                  "record 5: as sown since 2026-05-04; it stays as it was said",
                  "record 6: spray, on 2026-05-04; it stays as it was said",
                  "record 6: spray, ended 08:10; it stays as it was said",
                  "record 6: spray, no_entry_until 2026-05-05 08:00; it stays as it was said",
                  "record 8: the times are those of a file, not of this clock, and would be moved "
                  "all the same"));
  EXPECT_THAT(change.lines().back(), testing::StartsWith("look at record 8: "));
}

TEST_F(Clock, WhatIsNotHeldIsNotPutRight) {
  tablet_.keep({tablet_.reading_at(10)});
  const auto says = [&](const ClockShift& shift) {
    return error_line(clock_change(tablet_.ledger(), shift));
  };
  const StreamId unknown{uuid_v5(Uuid{}, "unknown")};
  EXPECT_THAT(says({unknown, 1, 2, hours{1}}),
              testing::AllOf(testing::StartsWith("not found: "), HasSubstr("nothing of stream ")));
  EXPECT_THAT(says({tablet_.stream(), 1, 3, hours{1}}),
              testing::AllOf(testing::StartsWith("not found: "),
                             HasSubstr("records 1 to 3 of Tab A are not all held"),
                             HasSubstr("of it records 1 to 2 are held")));
  EXPECT_EQ(says({tablet_.stream(), 1, 2, hours{1}}), "no error");
}

// --- the record

TEST_F(Clock, ThePersonIsMadeKnownAndTheShiftSaid) {
  tablet_.keep({tablet_.reading_at(10)});
  const ClockShift shift{tablet_.stream(), 2, 2, hours{1}};
  const auto say = [&](std::int64_t second) {
    return clock_records(tablet_.ledger(), shift, {"by the radio", "BE", at(second)},
                         tablet_.ids());
  };
  auto records = need(say(100));
  ASSERT_EQ(records.size(), 2U);
  EXPECT_EQ(records[0].kind, kind::kPerson);
  EXPECT_EQ(records[1].person, person_id("BE"));
  EXPECT_EQ(records[1].reason, "by the radio");
  EXPECT_EQ(records[1].at, at(100));
  EXPECT_EQ(need(read_clock_shift(records[1])), shift);
  tablet_.keep(records);
  EXPECT_EQ(need(say(100)).size(), 1U) << "the ids of one moment go on";
  EXPECT_EQ(need(tablet_.ledger().history(ledger::sample::plot("101").uuid)).at(0).at, at(3610));
}

TEST_F(Clock, OneThatWouldNotCountIsRefused) {
  tablet_.keep({tablet_.reading_at(10), tablet_.reading_at(20)});
  tablet_.keep_shift({tablet_.stream(), 3, 3, hours{2}}, 30);
  const auto says = [&](std::int64_t record, std::int64_t second) {
    return error_line(clock_records(tablet_.ledger(), {tablet_.stream(), record, record, hours{1}},
                                    {"r", "BE", at(second)}, tablet_.ids()));
  };
  EXPECT_THAT(says(3, 29),
              testing::AllOf(testing::StartsWith("refused: "),
                             HasSubstr("this would not count: what is said of record 3 on "
                                       "2026-05-04 08:00 is newer")));
  EXPECT_EQ(says(2, 29), "no error");
  EXPECT_EQ(says(3, 31), "no error");
}

}  // namespace
}  // namespace ligule::gather
