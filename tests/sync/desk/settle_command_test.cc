// settle as a person runs it: the list, and one value after the other.
#include <fstream>

#include "tests/sync/desk/take_in_fixture.h"

namespace ligule::desk {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::Not;

class SettleCommand : public TakeInCommand {
 protected:
  SettleCommand() {
    // Before the trial was sown: kept on hold, since nobody could be asked.
    EXPECT_EQ(take_in("Plot,Weight\n101,20.5\n", {{"--date", "2025-09-01"}}).exit, 0);
    held_ = standing("101", measure::kGrossWeight).id;
  }
  Ran settle(const std::vector<std::string>& more) {
    std::vector<std::string> arguments{"settle", "--ledger", ledger_};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return desk(arguments);
  }
  Ran says(const std::string& id) {
    return settle({"--value", id, "--reason", "on_paper", "--person", "KV"});
  }
  RecordId held_;
};

TEST_F(SettleCommand, ListsWhatIsOnHoldWithWhatWasAsked) {
  const Ran ran = settle({});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr(held_.text() + ": TF26, plot 101, "));
  EXPECT_THAT(ran.out, HasSubstr("gross_weight: 20.5 lb (on hold) by KV on Office, 2025-09-01"));
  EXPECT_THAT(ran.out, HasSubstr("; asked before_sowing, answered not_asked\n"));
  EXPECT_THAT(ran.out, HasSubstr("1 value to settle in"));
}

// Proves: the plots beside it are told with what they weighed, along the path and across it.
TEST_F(SettleCommand, ListsThePlotsBesideIt) {
  EXPECT_THAT(
      settle({}).out,
      HasSubstr("answered not_asked\n    beside on the path: plot 102 nothing yet, plot 202 "
                "nothing yet; across: plot 201 nothing yet\n"));
  ASSERT_EQ(take_in("Plot,Weight\n102,25\n201,26.4\n").exit, 0);
  EXPECT_THAT(
      settle({}).out,
      HasSubstr("    beside on the path: plot 102 25 lb, plot 202 nothing yet; across: plot "
                "201 26.4 lb\n"));
}

TEST_F(SettleCommand, OfABagsValueThoseOfTheBagsBesideItAreTold) {
  const std::map<std::string, std::string> samples{
      {"--columns", "plot=Plot,gross=Weight,bag=Bag,sample_fresh=Fresh,sample_dry=Dry"},
      {"--sample-unit", "g"}};
  ASSERT_EQ(
      take_in("Plot,Weight,Bag,Fresh,Dry\n102,21,2,430,429\n202,22,3,440,140\n", samples).exit, 0);
  EXPECT_THAT(settle({}).out,
              HasSubstr("sample_dry: 429 g (on hold) by KV on Office, 2026-05-20 12:00; asked "
                        "dry_matter_unusual, answered not_asked\n    beside on the path: plot 101 "
                        "nothing yet, plot 202 140 g, plot 201 nothing yet\n"));
}

// --- it is wrong

TEST_F(SettleCommand, WhatIsWrongIsCorrectedAsAWhole) {
  const Record before = standing("101", measure::kGrossWeight);
  const Ran ran = settle({"--value", held_.text(), "--correct", "21.4", "--reason",
                          "  the field book says so ", "--person", "LQ"});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr(held_.text() + " is put right, plot 101: gross_weight 21.4 lb: " +
                                 "the field book says so, LQ (corrected by "));
  const Record now = standing("101", measure::kGrossWeight);
  EXPECT_THAT(ran.out, HasSubstr(now.id.text()));
  EXPECT_EQ(now.kind, kind::kCorrection);
  EXPECT_THAT(now.targets, ElementsAre(held_));
  EXPECT_EQ(now.state, ValueState::kValue);
  EXPECT_EQ(now.entered, "21.4");
  EXPECT_EQ(now.value, 21.4);
  EXPECT_EQ(now.unit, "lb");
  EXPECT_EQ(now.reason, "the field book says so");
  EXPECT_EQ(now.person, person_id("LQ"));
  EXPECT_EQ(now.source, Source::kTyped);
  EXPECT_EQ(now.raw, "");
  EXPECT_EQ(now.blind, false);
  EXPECT_EQ(now.definition, before.definition);
  EXPECT_EQ(now.run, before.run);
  EXPECT_EQ(now.plan, before.plan);
  EXPECT_EQ(now.part, before.part);
  EXPECT_EQ(now.purpose, Purpose::kSurvey);
  EXPECT_THAT(now.answers, testing::IsEmpty());
  EXPECT_THAT(settle({}).out, testing::StartsWith("0 values to settle in"));
  EXPECT_EQ(desk({"ledger-check", "--ledger", ledger_}).exit, 0);
}

TEST_F(SettleCommand, AnotherUnitIsWrittenBehindTheNumber) {
  ASSERT_EQ(settle({"--value", held_.text(), "--correct", "9.5 kg", "--reason", "it was kilograms",
                    "--person", "KV"})
                .exit,
            0);
  const Record now = standing("101", measure::kGrossWeight);
  EXPECT_EQ(now.entered, "9.5");
  EXPECT_EQ(now.unit, "kg");
}

TEST_F(SettleCommand, WhatIsNoneIsMissingForAReason) {
  const Ran ran = settle(
      {"--value", held_.text(), "--missing", "--reason", "the bag was spilled", "--person", "KV"});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out,
              HasSubstr("is put right, plot 101: gross_weight missing: the bag was spilled"));
  const Record now = standing("101", measure::kGrossWeight);
  EXPECT_EQ(now.kind, kind::kCorrection);
  EXPECT_EQ(now.state, ValueState::kMissing);
  EXPECT_EQ(now.entered + now.unit, "");
  EXPECT_FALSE(now.value);
  EXPECT_EQ(now.reason, "the bag was spilled");
  EXPECT_THAT(settle({}).out, testing::StartsWith("0 values to settle in"));
  // And found again, its unit has to be said.
  const std::vector<std::string> found{"--value",  now.id.text(), "--correct", "20",
                                       "--reason", "found",       "--person",  "KV"};
  expect_refused(settle(found), 2, "what stands there has no unit", digest());
  auto with_unit = found;
  with_unit[3] = "20 lb";
  ASSERT_EQ(settle(with_unit).exit, 0);
  EXPECT_EQ(standing("101", measure::kGrossWeight).entered, "20");
  expect_refused(settle(found), 2, "no value of this id stands", digest());
}

// Proves: what is put right is held against the rules too, and stays on hold where they ask.
TEST_F(SettleCommand, WhatIsPutRightIsJudged) {
  const auto says = [&](const std::string& value) {
    return settle({"--value", held_.text(), "--correct", value, "--reason", "r", "--person", "KV"});
  };
  const std::string before = digest();
  expect_refused(says("much"), 2, "'much' is no value of gross_weight", before);
  expect_refused(says("-3"), 2, "gross_weight -3 lb is outside of what the scale takes", before);
  expect_refused(says("20.5"), 2, "it says that already", before);
  const Ran ran = says("205");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("on hold: --correct: plot 101: gross_weight 205 lb makes about"));
  const Record now = standing("101", measure::kGrossWeight);
  EXPECT_EQ(now.state, ValueState::kOnHold);
  EXPECT_THAT(now.answers, ElementsAre(Answer{"yield_unusual", "not_asked"}));
  EXPECT_THAT(settle({}).out, HasSubstr(now.id.text() + ": TF26, plot 101"));
}

// Proves: the limits that it was held against go into the stream before it.
TEST_F(SettleCommand, TheLimitsItWasHeldAgainstAreTold) {
  const std::size_t before = opened().of_kind(kind::kLimits).value().size();
  std::ofstream(ledger_ + ".limits.json") << R"({"limits": [{"measure": "gross_weight",
    "unit": "lb", "ask_above": 300, "source": "own"}]})";
  ASSERT_EQ(
      settle({"--value", held_.text(), "--correct", "21", "--reason", "r", "--person", "KV"}).exit,
      0);
  const auto limits = opened().of_kind(kind::kLimits).value();
  ASSERT_EQ(limits.size(), before + 1);
  EXPECT_LT(limits.back().seq, standing("101", measure::kGrossWeight).seq);
}

// Proves: a rating put right at the desk is held against those before it, as on the tablet.
TEST_F(SettleCommand, ARatingIsHeldAgainstThoseBeforeIt) {
  const Plan plan = two_block_plan({"ridge", "north", "TF26"});
  const auto rated = [&](std::uint8_t number, std::string_view measure, const std::string& entered,
                         double value, const OccasionId& occasion, int month) {
    Record record = standing("101", measure::kGrossWeight);
    // Another than the one it was copied from, which ends by chance.
    record.id.uuid.bytes[14] ^= 0xffU;
    record.id.uuid.bytes[15] = number;
    record.kind = kind::kReading;
    record.targets.clear();
    record.answers.clear();
    record.reason.clear();
    record.run.reset();
    record.details.clear();
    record.stream = {};
    record.seq = 0;
    record.measure = measure;
    record.unit.clear();
    record.definition.clear();
    record.state = ValueState::kValue;
    record.entered = entered;
    record.value = value;
    record.occasion = occasion;
    record.at = stamp_at(UtcInstant{date::sys_days{date::year{2027} / month / 2}}, {});
    return record;
  };
  OccasionId rating{};
  for (const PlanOccasion& occasion : plan.occasions)
    if (occasion.job == Job::kRate) rating = plan.occasion(occasion);
  OccasionId earlier{};
  earlier.uuid.bytes[3] = 7;
  const Record before = rated(1, "percent_stand", "60", 60, earlier, 4);
  const Record own = rated(2, "percent_stand", "55", 55, rating, 6);
  ASSERT_TRUE(opened().append({before, own}));
  const auto put_right = [&](const std::string& value) {
    std::string id;
    const auto held = opened();
    const auto claims = held.claims(plan.id(), rating);
    for (const ledger::Claim& claim : claims.value()) id = claim.record.id.text();
    return settle({"--value", id, "--correct", value, "--reason", "r", "--person", "KV"});
  };
  const Ran below = put_right("64");
  ASSERT_EQ(below.exit, 0) << below.err;
  EXPECT_THAT(below.out, Not(HasSubstr("on hold")));
  const Ran ran = put_right("100");
  EXPECT_THAT(ran.out, HasSubstr("on hold: --correct: plot 101: percent_stand 100")) << ran.err;
}

// Proves: a sample that was still losing water is weighed again, and not put right to be dry.
TEST_F(SettleCommand, WhatIsStillDryingIsWeighedAgain) {
  Record drying = standing("101", measure::kGrossWeight);
  drying.id.uuid.bytes[15] ^= 0x05;
  drying.kind = kind::kCorrection;
  drying.targets = {held_};
  drying.reason = "r";
  drying.stream = {};
  drying.seq = 0;
  drying.answers = {{"constant_weight", "weigh_again"}};
  ASSERT_TRUE(opened().append({drying}));
  expect_refused(
      settle({"--value", drying.id.text(), "--correct", "21", "--reason", "r", "--person", "KV"}),
      2, "this sample was still losing water", digest());
}

TEST_F(SettleCommand, OnlyWhatStandsAloneIsPutRight) {
  Record other = standing("101", measure::kGrossWeight);
  other.id.uuid.bytes[15] ^= 0x01;
  other.entered = "21";
  other.value = 21;
  {
    auto ledger = opened();
    ASSERT_TRUE(ledger.append({other}));
  }
  expect_refused(settle({"--value", held_.text(), "--missing", "--reason", "r", "--person", "KV"}),
                 2, "another value stands against it", digest());
}

TEST_F(SettleCommand, WhatHasAPadOfItsOwnAndBagsAreLeftToTheTablet) {
  ASSERT_EQ(
      take_in("Plot,Weight,Bag\n102,25,7\n", {{"--columns", "plot=Plot,gross=Weight,bag=Bag"}})
          .exit,
      0);
  const std::string bag = standing("102", measure::kBagNumber).id.text();
  expect_refused(settle({"--value", bag, "--missing", "--reason", "r", "--person", "KV"}), 2,
                 "the values of a bag hang on its number", digest());
  ASSERT_EQ(settle({"--value", bag, "--correct", "8", "--reason", "r", "--person", "KV"}).exit, 0);
  EXPECT_EQ(standing("102", measure::kBagNumber).entered, "8");
  Record note = standing("101", measure::kGrossWeight);
  note.id.uuid.bytes[15] ^= 0x01;
  note.measure = measure::kNote;
  note.entered = "a stone";
  note.unit.clear();
  note.value.reset();
  {
    auto ledger = opened();
    ASSERT_TRUE(ledger.append({note}));
  }
  expect_refused(
      settle({"--value", note.id.text(), "--correct", "x", "--reason", "r", "--person", "KV"}), 2,
      "words, visits and several numbers at once", digest());
}

TEST_F(SettleCommand, SettledItCountsAndLeavesTheList) {
  const Ran ran = says(held_.text());
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr(held_.text() + " stands: on_paper, KV"));
  const Record settled = standing("101", measure::kGrossWeight);
  EXPECT_EQ(settled.kind, kind::kSettlement);
  EXPECT_THAT(settled.targets, ElementsAre(held_));
  EXPECT_EQ(settled.state, ValueState::kValue);
  EXPECT_EQ(settled.entered, "20.5");
  EXPECT_EQ(settled.reason, "on_paper");
  EXPECT_THAT(settle({}).out, testing::StartsWith("0 values to settle in"));
  expect_refused(says(held_.text()), 2, "nothing is to be settled about this value", digest());
  EXPECT_EQ(desk({"ledger-check", "--ledger", ledger_}).exit, 0);
}

TEST_F(SettleCommand, APersonWhoIsNewIsMadeKnown) {
  const Ran ran = settle({"--value", held_.text(), "--reason", "agreed", "--person", "LQ"});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  const auto people = opened().of_kind(kind::kPerson).value();
  EXPECT_TRUE(std::ranges::any_of(people, [](const Record& r) { return r.entered == "LQ"; }));
  EXPECT_EQ(standing("101", measure::kGrossWeight).person, person_id("LQ"));
}

TEST_F(SettleCommand, BadArgumentsGetOneLineAndKeepNothing) {
  const std::string before = digest();
  expect_refused(settle({"--value", "101"}), 2, "'101' is no id of a record", before);
  expect_refused(settle({"--value", held_.text()}), 2, "the three go together", before);
  expect_refused(settle({"--reason", "agreed", "--person", "KV"}), 2, "the three go together",
                 before);
  expect_refused(settle({"--value", held_.text(), "--reason", "because", "--person", "KV"}), 2,
                 "because", before);
  expect_refused(settle({"--correct", "20"}), 2, "it is not said which value is wrong", before);
  expect_refused(settle({"--missing"}), 2, "it is not said which value is wrong", before);
  expect_refused(settle({"--value", held_.text(), "--correct", "20"}), 2, "the three go together",
                 before);
  expect_refused(settle({"--value", held_.text(), "--correct", "20", "--missing", "--reason", "r",
                         "--person", "KV"}),
                 2, "a value is another, or there is none", before);
  expect_refused(
      settle({"--value", held_.text(), "--correct", " ", "--reason", "r", "--person", "KV"}), 2,
      "it is empty", before);
  expect_refused(settle({"--value", "01890000-0000-7000-8000-000000000000", "--missing", "--reason",
                         "r", "--person", "KV"}),
                 2, "no value of this id stands", before);
  expect_refused(says("01890000-0000-7000-8000-000000000000"), 2,
                 "nothing is to be settled about this value", before);
  expect_refused(
      settle({"--value", held_.text(), "--reason", "agreed", "--person", "KV", "--device", "Shed"}),
      2, "the ledger is that of Office", before);
  expect_refused(settle({"--value", held_.text(), "--reason", "agreed", "--person", "KV", "--today",
                         "2026-05-04"}),
                 2, "the ledger is real", before);
  EXPECT_THAT(desk({"settle", "--ledger", folder_ / "none.ligule"}).exit, 2);
}

// Proves: where two values stand against each other the one named counts, and both are replaced.
TEST_F(SettleCommand, OfContradictingValuesOneIsNamed) {
  Record other = standing("101", measure::kGrossWeight);
  const RecordId first = other.id;
  other.id.uuid.bytes[15] ^= 0x01;
  other.entered = "21";
  other.value = 21;
  other.state = ValueState::kValue;
  other.answers.clear();
  {
    auto ledger = opened();
    ASSERT_TRUE(ledger.append({other}));
  }
  const Ran list = settle({});
  EXPECT_THAT(list.out, HasSubstr("2 values to settle in"));
  EXPECT_THAT(list.out, HasSubstr("21 lb by KV on Office"));
  EXPECT_THAT(list.out, HasSubstr("; another value stands against it\n"));
  EXPECT_THAT(list.out, HasSubstr("beside on the path: plot 102 nothing yet"));
  ASSERT_EQ(says(other.id.text()).exit, 0);
  const Record settled = standing("101", measure::kGrossWeight);
  EXPECT_EQ(settled.entered, "21");
  EXPECT_THAT(settled.targets, testing::UnorderedElementsAre(first, other.id));
  EXPECT_THAT(settle({}).out, Not(HasSubstr("stands against")));
}

}  // namespace
}  // namespace ligule::desk
