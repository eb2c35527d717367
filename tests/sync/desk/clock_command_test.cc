// clock as a person runs it: the list, what would change, and the record that is kept.
#include "storage/trial/clock_shift.h"
#include "tests/storage/ledger/sample.h"
#include "tests/sync/desk/take_in_fixture.h"

namespace ligule::desk {
namespace {

using ledger::sample::need;
using testing::AllOf;
using testing::HasSubstr;
using testing::Not;

// A desk's ledger that holds a tablet's records 1 to 4: its stream, and three ratings.
class ClockCommand : public TakeInCommand {
 protected:
  ClockCommand() {
    ledger::Ledger tablet = ledger::sample::started(folder_.path() / "tab.ledger", 50, "Tab A");
    need(tablet.append({rated(60, 0), rated(61, 7200), rated(62, 3600)}));
    bring(tablet, 4);
    stream_ = tablet.my_stream()->id;
  }
  static Record rated(std::uint64_t n, std::int64_t second) {
    Record record = ledger::sample::reading(n, "101", "percent_stand", "80");
    record.trial = trial();
    record.subject = plot_id(trial(), "101").uuid;
    record.part = static_cast<int>(n);
    record.at = ledger::sample::at(second);
    return record;
  }
  void bring(const ledger::Ledger& tablet, std::int64_t last) {
    const auto stream = *tablet.my_stream();
    auto held = opened();
    need(held.absorb(stream, 1, Digest{}, ledger::sample::bodies(tablet, stream.id, 1, last)));
  }
  Ran clock(const std::vector<std::string>& more) {
    std::vector<std::string> arguments{"clock", "--ledger", ledger_};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return desk(arguments);
  }
  // The four that say what is put right, and more.
  Ran shift(const std::string& by, const std::vector<std::string>& more = {}) {
    std::vector<std::string> arguments{"--tablet", "Tab A", "--from",  "4",
                                       "--to",     "4",     "--shift", by};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return clock(arguments);
  }
  Ran kept(const std::string& by) {
    return shift(by, {"--keep", "--reason", "by the radio", "--person", "KV"});
  }
  std::string time_of_the_last() {
    const auto record = need(opened().find({ledger::sample::id(62)})).value();
    return format_date(record.at.local_date) + " " + format_clock(record.at);
  }
  std::size_t shifts() { return need(opened().of_kind(kind::kClockShift)).size(); }

  StreamId stream_;
};

TEST_F(ClockCommand, AloneItListsTheClocksThatLookWrong) {
  const std::string before = digest();
  const Ran ran = clock({});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("Tab A, stream " + stream_.text() + ": 4 records\n"));
  EXPECT_THAT(ran.out, HasSubstr("  odd: record 4 is stamped 2026-05-04 09:00, 1:00:00 before "
                                 "record 3\n"));
  EXPECT_THAT(ran.out, HasSubstr("Office, stream "));
  EXPECT_THAT(ran.out, HasSubstr("1 clock of 2 streams in " + ledger_ + " to look at\n"));
  EXPECT_EQ(digest(), before);
}

TEST_F(ClockCommand, WithoutKeepItTellsWhatWouldChange) {
  const std::string before = digest();
  const Ran ran = shift("+16:00:00");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_EQ(ran.out, "1 record of stream " + stream_.text() +
                         ", 4 to 4, by +16:00:00\n"
                         "  first 2026-05-04 09:00 -> 2026-05-05 01:00\n"
                         "  last 2026-05-04 09:00 -> 2026-05-05 01:00\n"
                         "  1 of 2026-05-04 come to 2026-05-05\n"
                         "nothing is kept yet: say it again with --keep, --reason and --person\n");
  EXPECT_EQ(digest(), before);
  EXPECT_EQ(
      clock({"--stream", stream_.text(), "--from", "4", "--to", "4", "--shift", "+16:00"}).out,
      ran.out);
}

TEST_F(ClockCommand, KeptItIsARecordThatPutsTheTimesRight) {
  const Ran ran = kept("+1:30:00");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("put right: by the radio, KV (by "));
  EXPECT_EQ(time_of_the_last(), "2026-05-04 10:30");
  const auto records = need(opened().of_kind(kind::kClockShift));
  ASSERT_EQ(records.size(), 1U);
  EXPECT_THAT(ran.out, HasSubstr(records[0].id.text()));
  EXPECT_EQ(need(read_clock_shift(records[0])),
            (ClockShift{stream_, 4, 4, std::chrono::minutes{90}}));
  EXPECT_EQ(records[0].person, person_id("KV"));
  EXPECT_EQ(records[0].reason, "by the radio");
  EXPECT_EQ(records[0].stream, opened().my_stream()->id);
  const Ran list = clock({});
  EXPECT_THAT(list.out, AllOf(Not(HasSubstr("before record 3")),
                              HasSubstr("  record 4: put right by +1:30:00, says KV on Office, ")));
  EXPECT_EQ(desk({"ledger-check", "--ledger", ledger_}).exit, 0);

  // Put right otherwise, and taken back.
  EXPECT_THAT(kept("-0:20:00.500").out, HasSubstr("1 of them were put right before"));
  EXPECT_EQ(time_of_the_last(), "2026-05-04 08:39");
  ASSERT_EQ(kept("0").exit, 0);
  EXPECT_EQ(time_of_the_last(), "2026-05-04 09:00");
  EXPECT_EQ(shifts(), 3U);
}

TEST_F(ClockCommand, AShiftIsWrittenInOneOfTheseWays) {
  const std::vector<std::pair<std::string, std::string>> ways{{"+1:00", "+1:00:00"},
                                                              {"+0:00:01", "+0:00:01"},
                                                              {"-12:59:59", "-12:59:59"},
                                                              {"+0:00:00.001", "+0:00:00.001"},
                                                              {"0", "0:00:00"},
                                                              {"+876000:00:00", "+876000:00:00"},
                                                              {"-8760:00:00", "-8760:00:00"}};
  for (const auto& [given, told] : ways) {
    const Ran ran = shift(given);
    EXPECT_EQ(ran.exit, 0) << given << ran.err;
    EXPECT_THAT(ran.out, HasSubstr("4 to 4, by " + told + "\n")) << given;
  }
  const std::string before = digest();
  for (const char* bad : {"1:00:00",
                          "+1",
                          "+1:0",
                          "+1:60",
                          "+1:00:60",
                          "+1:00:00:00",
                          "+:30:00",
                          "+1:00.5",
                          "+1::00",
                          "+1:00:00.5",
                          "+1:00:00.5000",
                          "+ 1:00",
                          "+-1:00",
                          "an hour",
                          "+",
                          "",
                          "00",
                          "+876000:00:01",
                          "+1000000:00:00",
                          "+1:00:"}) {
    const Ran ran = shift(bad);
    expect_refused(ran, 2, std::string("--shift: '") + bad + "' is no time to shift by", before);
    EXPECT_EQ(std::ranges::count(ran.err, '\n'), 1) << ran.err;
  }
}

TEST_F(ClockCommand, BadArgumentsGetOneLineAndKeepNothing) {
  const std::string before = digest();
  const std::vector<std::string> said{"--reason", "r", "--person", "KV", "--keep"};
  const auto with = [&](std::vector<std::string> more) {
    more.insert(more.end(), said.begin(), said.end());
    return more;
  };
  const auto refused = [&](const Ran& ran, const std::string& says) {
    expect_refused(ran, 2, says, before);
    EXPECT_EQ(std::ranges::count(ran.err, '\n'), 1) << ran.err;
  };
  const std::string all_four = "it takes all four to say what is put right";
  refused(clock({"--keep"}), all_four);
  refused(clock({"--reason", "r"}), all_four);
  refused(clock({"--person", "KV"}), all_four);
  refused(clock({"--tablet", "Tab A"}), all_four);
  refused(clock({"--from", "4", "--to", "4", "--shift", "+1:00"}), all_four);
  refused(clock({"--tablet", "Tab A", "--to", "4", "--shift", "+1:00"}), all_four);
  refused(clock({"--tablet", "Tab A", "--from", "4", "--shift", "+1:00"}), all_four);
  refused(clock({"--tablet", "Tab A", "--from", "4", "--to", "4"}), all_four);
  refused(clock({"--device", "Desk"}), "--device: nothing is kept without --keep");
  refused(shift("+1:00", {"--stream", stream_.text()}),
          "one of the two says whose clock was wrong");
  refused(clock({"--tablet", "Tab A", "--from", "4", "--to", "3", "--shift", "+1:00"}),
          "the last record comes before the first");
  refused(clock({"--tablet", "Tab A", "--from", "0", "--to", "3", "--shift", "+1:00"}),
          "--from: \"0\" cannot be used");
  refused(clock({"--tablet", "Tab A", "--from", "1", "--to", "x", "--shift", "+1:00"}),
          "--to: \"x\" cannot be used");
  refused(clock({"--tablet", "", "--from", "1", "--to", "2", "--shift", "+1:00"}),
          "--tablet: that is no name for a tablet");
  refused(clock({"--stream", "Tab A", "--from", "1", "--to", "2", "--shift", "+1:00"}),
          "--stream: 'Tab A' is no id of a stream");
  refused(shift("+1:00", {"--keep", "--person", "KV"}), "it is not said why, or who says so");
  refused(shift("+1:00", {"--keep", "--reason", "r"}), "it is not said why, or who says so");
  refused(shift("+1:00", {"--reason", " "}), "--reason: it is empty");
  refused(shift("+1:00", {"--person", ""}), "--person: it is empty");
  refused(shift("+1:00", {"--device", ""}), "--device: that is no name for a tablet");
  refused(shift("+1:00", {"--today", "soon"}), "--today: 'soon' is not a date");
  // Of the ledger: what is not held, another's name, a day that is none of its.
  refused(clock(with({"--tablet", "Tab B", "--from", "1", "--to", "2", "--shift", "+1:00"})),
          "nothing of a tablet called Tab B is held");
  refused(clock(with({"--stream", "01890000-0000-7000-8000-000000000000", "--from", "1", "--to",
                      "2", "--shift", "+1:00"})),
          "nothing of stream 01890000-0000-7000-8000-000000000000 is held");
  refused(clock(with({"--tablet", "Tab A", "--from", "1", "--to", "5", "--shift", "+1:00"})),
          "records 1 to 5 of Tab A are not all held");
  refused(shift("+1:00", with({"--device", "Shed"})), "the ledger is that of Office");
  refused(shift("+1:00", with({"--today", "2026-05-04"})), "the ledger is real");
  refused(clock({"--today", "2026-05-04"}), "the ledger is real");
  EXPECT_EQ(shifts(), 0U);
}

TEST_F(ClockCommand, OneThatWouldNotCountIsRefused) {
  Record later;
  later.id = {ledger::sample::id(90)};
  later.person = person_id("KV");
  later.reason = "r";
  later.at = ledger::sample::at(0);
  later.at.utc += std::chrono::hours{24 * 365 * 900};
  write_clock_shift({stream_, 1, 4, std::chrono::hours{2}}, later);
  {
    auto held = opened();
    need(held.append({later}));
  }
  expect_refused(kept("+1:00"), 2, "this would not count", digest());
}

TEST_F(ClockCommand, AFileThatIsNoLedgerIsRefused) {
  const std::vector<std::string> four{"--tablet", "Tab A", "--from",  "4",
                                      "--to",     "4",     "--shift", "+1:00"};
  const auto on = [&](const std::string& path, std::vector<std::string> more) {
    more.insert(more.begin(), {"clock", "--ledger", path});
    return desk(more);
  };
  const std::string none = folder_ / "none.ligule";
  EXPECT_EQ(on(none, {}).exit, 2);
  EXPECT_THAT(on(none, {}).err, HasSubstr("the list was not made"));
  EXPECT_EQ(on(none, four).exit, 2);
  EXPECT_THAT(on(none, four).err, HasSubstr("nothing was put right"));
  EXPECT_EQ(on(write("no ledger"), {}).exit, 2);
}

// Proves: a desk that has no records of its own yet needs a name, and begins its stream with this.
TEST_F(ClockCommand, ADeskWithoutRecordsOfItsOwnNeedsAName) {
  const std::string path = folder_ / "new.ligule";
  ledger::Ledger tablet = ledger::sample::started(folder_.path() / "other.ledger", 70, "Tab B");
  need(tablet.append({rated(80, 0)}));
  const auto stream = *tablet.my_stream();
  {
    auto made = need(ledger::Ledger::create(path));
    need(made.absorb(stream, 1, Digest{}, ledger::sample::bodies(tablet, stream.id, 1, 2)));
  }
  std::vector<std::string> arguments{
      "clock", "--ledger", path,    "--tablet", "Tab B",    "--from", "2",        "--to",
      "2",     "--shift",  "+1:00", "--keep",   "--reason", "r",      "--person", "KV"};
  const Ran without = desk(arguments);
  EXPECT_EQ(without.exit, 2);
  EXPECT_THAT(without.err, HasSubstr("this ledger begins a stream and needs a name"));
  arguments.insert(arguments.end(), {"--device", "Desk 2"});
  const Ran ran = desk(arguments);
  ASSERT_EQ(ran.exit, 0) << ran.err;
  const auto held = need(ledger::Ledger::open(path));
  EXPECT_EQ(held.my_stream()->device, "Desk 2");
  EXPECT_EQ(need(held.find({ledger::sample::id(80)})).value().at, ledger::sample::at(3600));
}

// Proves: of a demonstration nothing lies ahead of now unless its day is given, and what is said
// there carries that day.
TEST_F(ClockCommand, ADemonstrationHasItsOwnDay) {
  ledger_ = folder_ / "demo.ligule";
  enrol(two_block_plan({"ridge", "north", "TF27"}), {"--demo", "--today", "2031-05-04"});
  EXPECT_THAT(clock({}).out, HasSubstr("0 clocks of 1 stream"));
  EXPECT_THAT(clock({"--today", "2031-05-03"}).out, HasSubstr("stamped after now, up to"));
  EXPECT_THAT(clock({"--today", "2031-05-04"}).out, HasSubstr("0 clocks of 1 stream"));
  const std::vector<std::string> one{"--tablet", "Office",   "--from", "1",      "--to",
                                     "1",        "--shift",  "+1:00",  "--keep", "--reason",
                                     "r",        "--person", "KV"};
  expect_refused(clock(one), 2, "the ledger was made for demonstration", digest());
  std::vector<std::string> on_its_day = one;
  on_its_day.insert(on_its_day.end(), {"--today", "2031-05-04"});
  const Ran ran = clock(on_its_day);
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_EQ(need(opened().of_kind(kind::kClockShift)).at(0).at.local_date,
            parse_date("2031-05-04").value());
}

}  // namespace
}  // namespace ligule::desk
