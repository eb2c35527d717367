// Files of several tablets into one ledger: every order, and every reason to refuse.
#include <algorithm>
#include <numeric>

#include "tests/sync/gather/gather_fixture.h"

namespace ligule::gather {
namespace {

using ledger::Ledger;
using ledger::sample::need;
using seal::Season;
using testing::HasSubstr;
using testing::SizeIs;

TEST_F(Gathering, ATrustedFileIsTakenInAndASecondTimeAddsNothing) {
  const Season season = seal::small_season();
  const std::string file = write("s.zip", season.sealed());
  Ledger ledger = desk();
  trust(ledger, season, "tablet N");
  const auto first = take(ledger, file);
  ASSERT_TRUE(first) << one_line(first.error().front());
  EXPECT_EQ(first->label, "tablet N");
  EXPECT_EQ(first->device, "North, 1");
  EXPECT_EQ(first->absorbed.added, 4);
  const Digest digest = need(ledger.digest());
  const auto second = take(ledger, file);
  ASSERT_TRUE(second);
  EXPECT_EQ(second->absorbed.added, 0);
  EXPECT_EQ(second->absorbed.known, 4);
  EXPECT_EQ(need(ledger.digest()), digest);
}

TEST_F(Gathering, AKeyNobodyVouchedForIsRefusedByItsFingerprint) {
  const Season season = seal::small_season();
  Ledger ledger = desk();
  const Error fault = refused(ledger, write("s.zip", season.sealed()));
  EXPECT_EQ(fault.kind, ErrorKind::kNotTrusted);
  EXPECT_THAT(fault.what, HasSubstr(seal::fingerprint(season.key.public_key())));
  EXPECT_THAT(fault.what, HasSubstr("North, 1"));
  EXPECT_THAT(fault.where, HasSubstr("s.zip"));
}

TEST_F(Gathering, ADamagedFileIsRefused) {
  const Season season = seal::small_season();
  std::string bytes = season.sealed();
  bytes[bytes.size() / 2] ^= 1;
  Ledger ledger = desk();
  trust(ledger, season, "N");
  EXPECT_EQ(refused(ledger, write("s.zip", bytes)).kind, ErrorKind::kDamaged);
  EXPECT_EQ(refused(ledger, folder_.file("none.zip")).kind, ErrorKind::kNotFound);
}

TEST_F(Gathering, AForkIsRefusedByName) {
  Season one = seal::small_season();
  Season other = seal::small_season();
  one.add_note("as it was on the tablet");
  other.add_note("as it was on a copy of the tablet");
  Ledger ledger = desk();
  trust(ledger, one, "N");
  ASSERT_TRUE(take(ledger, write("one.zip", one.sealed())));
  const Error fault = refused(ledger, write("other.zip", other.sealed()));
  EXPECT_EQ(fault.kind, ErrorKind::kConflict);
  EXPECT_THAT(fault.what, HasSubstr("forks at record 5"));
  EXPECT_THAT(fault.what, HasSubstr("North, 1"));
  EXPECT_THAT(fault.where, HasSubstr("other.zip"));
}

// A ledger that was copied and went on twice: of the branch that was chosen every order of files
// gives one ledger, and the other branch is refused by name, beyond a gap too.
TEST_F(Gathering, TheBranchThatWasChosenIsKeptWhateverTheOrder) {
  Season kept = seal::small_season();
  Season other = seal::small_season();
  kept.add_note("as it was on the tablet");
  other.add_note("as it was on a copy of the tablet");
  const std::string chosen = write("chosen.zip", kept.sealed());
  kept.add_note("later");
  other.add_note("later, on the copy");
  other.add_note("and later still");
  const std::vector<std::string> mine{write("a.zip", kept.sealed_from(4)),
                                      write("b.zip", seal::small_season().sealed()),
                                      write("c.zip", kept.sealed())};
  const std::vector<std::string> others{write("x.zip", other.sealed()),
                                        write("y.zip", other.sealed_from(7))};
  std::vector<std::size_t> order{0, 1, 2};
  std::optional<Digest> expected;
  int orders = 0;
  do {
    Ledger ledger = desk("desk" + std::to_string(orders++) + ".ligule");
    trust(ledger, kept, "N");
    ASSERT_TRUE(gather_file(ledger, *files_, chosen, UtcInstant{}, ledger::Branch::kChosen));
    for (const std::string& file : others)
      EXPECT_EQ(refused(ledger, file).kind, ErrorKind::kConflict) << file;
    for (const std::size_t i : order) ASSERT_TRUE(take(ledger, mine[i]));
    for (const std::string& file : others)
      EXPECT_EQ(refused(ledger, file).kind, ErrorKind::kConflict) << file;
    const Digest digest = need(ledger.digest());
    if (!expected) expected = digest;
    ASSERT_EQ(digest, *expected);
  } while (std::ranges::next_permutation(order).found);
  EXPECT_EQ(orders, 6);
}

// From its first record on and in one run: else nobody can tell whose the rest is.
TEST_F(Gathering, ABranchIsChosenInOneRun) {
  Season kept = seal::small_season();
  kept.add_note("five");
  kept.add_note("six");
  const std::string whole = write("whole.zip", kept.sealed());
  const std::string end = write("end.zip", kept.sealed_from(6));
  const auto choose = [&](Ledger& ledger, const std::string& file) {
    return gather_file(ledger, *files_, file, UtcInstant{}, ledger::Branch::kChosen);
  };
  Ledger ledger = desk();
  trust(ledger, kept, "N");
  const auto middle = choose(ledger, end);
  ASSERT_FALSE(middle);
  EXPECT_THAT(middle.error().front().what, HasSubstr("without records 1 to 5"));
  ASSERT_TRUE(take(ledger, end)) << "nothing was chosen";
  ASSERT_FALSE(choose(ledger, write("two.zip", seal::small_season().sealed())))
      << "what is held beyond may be of another branch";
  EXPECT_TRUE(choose(ledger, whole)) << "it meets what is held";
  EXPECT_TRUE(choose(ledger, end));
}

TEST_F(Gathering, ABranchIsNotChosenAgainstWhatIsHeld) {
  Season kept = seal::small_season();
  Season other = seal::small_season();
  kept.add_note("as it was on the tablet");
  other.add_note("as it was on a copy of the tablet");
  const std::string file = write("other.zip", other.sealed());
  Ledger ledger = desk();
  trust(ledger, kept, "N");
  ASSERT_TRUE(take(ledger, write("kept.zip", kept.sealed())));
  const auto chosen = gather_file(ledger, *files_, file, UtcInstant{}, ledger::Branch::kChosen);
  ASSERT_FALSE(chosen);
  EXPECT_THAT(chosen.error().front().mend, HasSubstr("begin a new ledger"));
  kept.add_note("later");
  EXPECT_TRUE(take(ledger, write("later.zip", kept.sealed_from(6)))) << "nothing was chosen";
}

TEST_F(Gathering, AForkBeforeWhatIsHeldIsRefusedToo) {
  Season one = seal::small_season();
  Season other;
  other.add_reading("15", 15);
  other.add_reading("25", 25);
  one.add_note("later");
  Ledger ledger = desk();
  trust(ledger, one, "N");
  ASSERT_TRUE(take(ledger, write("late.zip", one.sealed_from(4))));
  EXPECT_EQ(refused(ledger, write("early.zip", other.sealed())).kind, ErrorKind::kConflict);
}

// Somebody with a key of their own makes a file that claims a known tablet's stream.
TEST_F(Gathering, AStreamUnderAnotherKeyIsRefused) {
  const Season season = seal::small_season();
  Ledger ledger = desk();
  trust(ledger, season, "N");
  ASSERT_TRUE(take(ledger, write("s.zip", season.sealed_from(2))));
  // A later part of the stream, so that no first record gives the thief away.
  Season thief = seal::small_season();
  thief.key = seal::test_key(99);
  thief.table.stream.public_key = thief.key.public_key();
  thief.add_note("five");
  trust(ledger, thief, "thief");
  const Error fault = refused(ledger, write("t.zip", thief.sealed_from(2)));
  EXPECT_EQ(fault.kind, ErrorKind::kConflict);
  EXPECT_THAT(fault.what, HasSubstr("another device, key or origin"));
}

TEST_F(Gathering, DemonstrationAndRealRecordsNeverMix) {
  const Season real = seal::small_season();
  Season demo(42);
  demo.table.stream.demo = true;
  demo.bodies.clear();
  Record first = demo.envelope(kind::kStream);
  first.details = details_text({{"demo", "1"},
                                {"device", demo.table.stream.device},
                                {"public_key", seal::hex(demo.table.stream.public_key)},
                                {"software", "ligule test"}});
  demo.add(first);
  const std::string real_file = write("real.zip", real.sealed());
  const std::string demo_file = write("demo.zip", demo.sealed());
  for (const bool real_first : {true, false}) {
    Ledger ledger = desk(real_first ? "a.ligule" : "b.ligule");
    trust(ledger, real, "real");
    trust(ledger, demo, "demo");
    ASSERT_TRUE(take(ledger, real_first ? real_file : demo_file));
    EXPECT_EQ(refused(ledger, real_first ? demo_file : real_file).kind, ErrorKind::kRefused);
  }
}

TEST_F(Gathering, GapsAreListedAndCloseWhenTheFileComes) {
  Season season = seal::small_season();
  Ledger ledger = desk();
  trust(ledger, season, "N");
  ASSERT_TRUE(take(ledger, write("late.zip", season.sealed_from(3))));
  const auto open = need(gaps(ledger));
  ASSERT_THAT(open, SizeIs(1));
  EXPECT_EQ(open[0].first, 1);
  EXPECT_EQ(open[0].last, 2);
  EXPECT_EQ(open[0].device, "North, 1");
  ASSERT_TRUE(take(ledger, write("all.zip", season.sealed())));
  EXPECT_THAT(need(gaps(ledger)), SizeIs(0));
}

// A ledger that went on from a stream of which nothing came: somebody's records are missing.
TEST_F(Gathering, AStreamThatAnotherWentOnFromIsAGap) {
  Season first = seal::small_season();
  Season second(55);
  second.table.stream.continues = first.table.stream.id;
  second.bodies.clear();
  Record begun = second.envelope(kind::kStream);
  begun.details = details_text({{"continues", first.table.stream.id.text()},
                                {"device", second.table.stream.device},
                                {"public_key", seal::hex(second.table.stream.public_key)},
                                {"software", "ligule test"}});
  second.add(begun);
  Ledger ledger = desk();
  trust(ledger, first, "N");
  trust(ledger, second, "N again");
  ASSERT_TRUE(take(ledger, write("second.zip", second.sealed())));
  const auto open = need(gaps(ledger));
  ASSERT_THAT(open, SizeIs(1));
  EXPECT_THAT(open[0].line(), HasSubstr("no record of the stream that North, 1, stream "));
  ASSERT_TRUE(take(ledger, write("first.zip", first.sealed())));
  EXPECT_THAT(need(gaps(ledger)), SizeIs(0));
}

// A ledger file itself, of a tablet whose last day no season file holds.
TEST_F(Gathering, ALedgerFileIsTakenInAsFarAsItsKeysAreTrusted) {
  const std::string tablet = folder_.file("tablet.ligule");
  {
    Ledger ledger = ledger::sample::started(tablet, 1, "tablet 3");
    need(ledger.append({ledger::sample::plan_record(9, ledger::sample::plan()),
                        ledger::sample::reading(10, "101", "percent_stand", "80")}));
    trust(ledger, seal::small_season(), "N");
    ASSERT_TRUE(take(ledger, write("n.zip", seal::small_season().sealed())));
  }
  Ledger ledger = desk();
  const auto unknown = need(gather_ledger(ledger, tablet));
  EXPECT_THAT(unknown.taken, SizeIs(0));
  ASSERT_THAT(unknown.refused, SizeIs(2));
  EXPECT_EQ(unknown.refused[0].kind, ErrorKind::kNotTrusted);
  EXPECT_THAT(need(ledger.spans()), SizeIs(0));
  need(ledger.trust({ledger::sample::start(1).public_key, "tablet 3"}));
  const auto taken = need(gather_ledger(ledger, tablet));
  ASSERT_THAT(taken.taken, SizeIs(1));
  EXPECT_EQ(taken.taken[0].absorbed.added, 3);
  EXPECT_THAT(taken.refused, SizeIs(1)) << "what the tablet gathered from another";
  EXPECT_EQ(need(gather_ledger(ledger, tablet)).taken[0].absorbed.added, 0);
  EXPECT_EQ(gather_ledger(ledger, folder_.file("none")).error().kind, ErrorKind::kNotFound);
}

// Two tablets rate one plot; a third corrects before its target arrives.
class TwoTablets : public Gathering {
 protected:
  TwoTablets() {
    Record person = one_.envelope(kind::kPerson);
    person.subject = person_id("AB").uuid;
    person.entered = "AB";
    one_.add(person);
    one_.take(ledger::sample::plan_record(100, ledger::sample::plan()));
    Record first = ledger::sample::reading(101, "101", "percent_stand", "85");
    first.person = person_id("AB");
    one_.take(first);
    one_.take(ledger::sample::reading(102, "102", "percent_stand", "70"));
    Record second = ledger::sample::reading(201, "101", "percent_stand", "60");
    second.person = person_id("XY");
    two_.take(second);
    two_.take(ledger::sample::reading(202, "102", "percent_stand", "70"));
    two_.take(ledger::sample::reading(203, "201", "percent_stand", "10"));
    three_.take(ledger::sample::correction(301, target(two_), "15"));
    three_.add_note("late in the day");
  }
  // The reading of plot 201, as it stands in a stream.
  static Record target(const Season& season) { return parse_record(season.bodies.back()).value(); }
  void trust_all(Ledger& ledger) {
    trust(ledger, one_, "one");
    trust(ledger, two_, "two");
    trust(ledger, three_, "three");
  }

  Season one_{7}, two_{8}, three_{9};
};

TEST_F(TwoTablets, AConflictIsShownWithBothValuesAndWho) {
  Ledger ledger = desk();
  trust_all(ledger);
  ASSERT_TRUE(take(ledger, write("one.zip", one_.sealed())));
  EXPECT_THAT(need(conflicts(ledger)), SizeIs(0));
  ASSERT_TRUE(take(ledger, write("two.zip", two_.sealed())));
  const auto found = need(conflicts(ledger));
  ASSERT_THAT(found, SizeIs(1)) << "the same value on both tablets is no conflict";
  EXPECT_EQ(found[0].about, "plot 101");
  ASSERT_THAT(found[0].contenders, SizeIs(2));
  const std::string line = found[0].line();
  EXPECT_THAT(line, HasSubstr("TF26, plot 101, "));
  EXPECT_THAT(line, HasSubstr("85 by AB on North, 1, 2026-05-04"));
  EXPECT_THAT(line, HasSubstr("60 by " + person_id("XY").text()));
}

TEST_F(TwoTablets, WeedsOnlySaidOnOneTabletIsAConflictThatSaysSo) {
  Record weeds = ledger::sample::reading(120, "102", "gross_weight", "10");
  weeds.details = R"({"weeds":"only"})";
  one_.take(weeds);
  two_.take(ledger::sample::reading(220, "102", "gross_weight", "10"));
  Ledger ledger = desk();
  trust_all(ledger);
  ASSERT_TRUE(take(ledger, write("one.zip", one_.sealed())));
  ASSERT_TRUE(take(ledger, write("two.zip", two_.sealed())));
  std::string lines;
  for (const Conflict& conflict : need(conflicts(ledger))) lines += conflict.line() + "\n";
  EXPECT_THAT(lines, HasSubstr("gross_weight: 10, weeds only, by "));
  EXPECT_THAT(lines, HasSubstr("; 10 by "));
}

TEST_F(TwoTablets, AConflictAboutAPartsBagNamesBagAndPart) {
  Record bag = ledger::sample::reading(110, "101", measure::kPartBag, "31");
  bag.part = 3;
  bag.value.reset();
  one_.take(bag);
  const auto dried = [&](std::uint64_t number, const std::string& weight) {
    Record record = ledger::sample::reading(number, "101", measure::kSampleDry, weight);
    record.subject = bag.id.uuid;
    record.unit = "g";
    return record;
  };
  one_.take(dried(111, "62"));
  two_.take(dried(210, "64"));
  Ledger ledger = desk();
  trust_all(ledger);
  ASSERT_TRUE(take(ledger, write("one.zip", one_.sealed())));
  ASSERT_TRUE(take(ledger, write("two.zip", two_.sealed())));
  const auto found = need(conflicts(ledger));
  ASSERT_THAT(found, SizeIs(2)) << "and that of plot 101";
  EXPECT_TRUE(std::ranges::any_of(
      found, [](const Conflict& each) { return each.about == "bag 31 of grass weed"; }));
}

TEST_F(TwoTablets, ASettlementEndsTheConflictAndALaterClaimReopensIt) {
  Ledger ledger = desk();
  trust_all(ledger);
  ASSERT_TRUE(take(ledger, write("one.zip", one_.sealed())));
  ASSERT_TRUE(take(ledger, write("two.zip", two_.sealed())));
  need(ledger.start_stream(ledger::sample::start(900, "desk")));
  const auto claims = need(ledger.claims(ledger::sample::trial(), ledger::sample::rating()));
  std::vector<Record> seen;
  for (const auto& claim : claims) {
    if (claim.others > 0) seen.push_back(claim.record);
  }
  ASSERT_THAT(seen, SizeIs(2));
  need(ledger.append({ledger::sample::settlement(950, seen, "60")}));
  EXPECT_THAT(need(conflicts(ledger)), SizeIs(0));
  three_.take(ledger::sample::reading(310, "101", "percent_stand", "5"));
  ASSERT_TRUE(take(ledger, write("three.zip", three_.sealed())));
  EXPECT_THAT(need(conflicts(ledger)), SizeIs(1));
}

// Three streams in five files that overlap; one file brings a correction whose target is in
// another. Whatever the order: one ledger digest, the same conflicts, no gap.
TEST_F(TwoTablets, EveryOrderOfFilesGivesOneLedger) {
  Season early_two{8};
  for (std::size_t i = 1; i < 3; ++i) early_two.add_body(two_.bodies[i]);
  const std::vector<std::string> files{
      write("one.zip", one_.sealed()), write("one-part.zip", one_.sealed_from(3)),
      write("two.zip", two_.sealed()), write("two-early.zip", early_two.sealed()),
      write("three.zip", three_.sealed())};
  std::vector<std::size_t> order(files.size());
  std::iota(order.begin(), order.end(), 0U);
  std::optional<Digest> expected;
  std::string conflict;
  int orders = 0;
  do {
    const std::string name = "desk" + std::to_string(orders++) + ".ligule";
    Ledger ledger = desk(name);
    trust_all(ledger);
    for (const std::size_t i : order) {
      const auto taken = take(ledger, files[i]);
      ASSERT_TRUE(taken) << one_line(taken.error().front());
    }
    const Digest digest = need(ledger.digest());
    const auto found = need(conflicts(ledger));
    ASSERT_THAT(found, SizeIs(1));
    if (!expected) {
      expected = digest;
      conflict = found[0].line();
    }
    ASSERT_EQ(digest, *expected);
    ASSERT_EQ(found[0].line(), conflict);
    ASSERT_THAT(need(gaps(ledger)), SizeIs(0));
  } while (std::ranges::next_permutation(order).found);
  EXPECT_EQ(orders, 120);
}

}  // namespace
}  // namespace ligule::gather
