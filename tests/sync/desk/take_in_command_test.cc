// take-in: from a machine's CSV into a ledger and on to the tables, by the rules.
#include "tests/sync/desk/take_in_fixture.h"

namespace ligule::desk {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

TEST_F(TakeInCommand, WeightsBecomeRecordsThatSayWhereTheyCameFrom) {
  const Ran ran =
      take_in(four_plots, {{"--cut-width", "36 in"}, {"--stubble", "4 in"}, {"--surface", "dew"}});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_EQ(ran.err, "");
  EXPECT_EQ(ran.out,
            "TF26 cutting 1 of 2026: 4 values taken in from w.csv, 0 corrected, 0 there already, 0 "
            "on hold\n");
  const Record weight = standing("101", measure::kGrossWeight);
  EXPECT_EQ(weight.kind, kind::kReading);
  EXPECT_EQ(weight.entered, "20.5");
  EXPECT_EQ(weight.value, 20.5);
  EXPECT_EQ(weight.unit, "lb");
  EXPECT_EQ(weight.state, ValueState::kValue);
  EXPECT_EQ(weight.source, Source::kImported);
  EXPECT_EQ(weight.raw, "101,20.5");
  EXPECT_EQ(weight.person, person_id("KV"));
  EXPECT_EQ(weight.purpose, Purpose::kSurvey);
  EXPECT_FALSE(weight.blind) << "a machine rates nobody";
  EXPECT_EQ(format_date(weight.at.local_date), "2026-05-20");
  EXPECT_TRUE(opened().definition(weight.definition).value());
  const auto runs = of_kind(kind::kHarvestRun);
  ASSERT_EQ(runs.size(), 1U);
  EXPECT_EQ(weight.run, runs[0].id);
  EXPECT_EQ(runs[0].occasion, weight.occasion);
  EXPECT_EQ(runs[0].person, person_id("KV"));
  EXPECT_EQ(detail(runs[0].details, "machine"), "Plot 7");
  EXPECT_EQ(detail(runs[0].details, "cut_width"), "36 in");
  EXPECT_EQ(detail(runs[0].details, "stubble"), "4 in");
  EXPECT_EQ(detail(runs[0].details, "surface"), "dew");
  EXPECT_EQ(detail(runs[0].details, "file"), "w.csv");
  EXPECT_EQ(detail(runs[0].details, "file_sha256"), sha256(four_plots).hex());
  EXPECT_EQ(detail(runs[0].details, "clock"), "none") << "noon stands for an hour nobody knows";
  EXPECT_EQ(format_clock(runs[0].at), "12:00");
  const auto people = opened().of_kind(kind::kPerson).value();
  ASSERT_EQ(people.size(), 1U);
  EXPECT_EQ(people[0].entered, "KV");
  EXPECT_EQ(desk({"ledger-check", "--ledger", ledger_}).exit, 0);
}

TEST_F(TakeInCommand, TheSameFileTwiceChangesNothingAndSaysSo) {
  ASSERT_EQ(take_in(four_plots).exit, 0);
  const std::string before = digest();
  const Ran again = take_in(four_plots);
  EXPECT_EQ(again.exit, 0);
  EXPECT_EQ(again.out,
            "TF26 cutting 1 of 2026: nothing changed, all 4 values of w.csv are there "
            "already\n");
  EXPECT_EQ(digest(), before);
  // A file that has grown adds what is new; another way to write a number is the same number.
  const Ran grown = take_in("Plot,Weight\n101,20.50\n102,25\n", {}, {});
  EXPECT_EQ(grown.exit, 0) << grown.err;
  EXPECT_EQ(digest(), before);
}

TEST_F(TakeInCommand, AGrownFileAddsWhatIsNew) {
  ASSERT_EQ(take_in("Plot,Weight\n101,20.5\n102,25\n").exit, 0);
  const Ran grown = take_in(four_plots);
  EXPECT_THAT(grown.out, HasSubstr("2 values taken in from w.csv, 0 corrected, 2 there already"));
  EXPECT_EQ(of_kind(kind::kHarvestRun).size(), 2U);
  EXPECT_EQ(opened().of_kind(kind::kPerson).value().size(), 1U) << "known by now";
}

TEST_F(TakeInCommand, PlotsThatAreNotInTheFileAreNamed) {
  EXPECT_THAT(take_in("Plot,Weight\n101,20.5\n202,25\n").out,
              HasSubstr("not in the file: plots 102, 201\n"));
}

// --- the chain, and a hand calculation beside it

TEST_F(TakeInCommand, FromTheFileToTheTablesYieldsAreWhatAHandCalculationGives) {
  const Ran ran = take_in(
      "Plot No,\"Weight, lb\",Tare,Bag,Fresh,Dry\n"
      "101,22.0,2.0,11,1.1,0.35\n102,27.0,2.0,12,1.1,0.30\n"
      "202,24.0,2.0,13,1.1,0.35\n201,28.0,2.0,14,1.1,0.30\n",
      {{"--columns",
        "plot=Plot No,\"gross=Weight, lb\",tare=Tare,bag=Bag,sample_fresh=Fresh,sample_dry=Dry"},
       {"--sample-unit", "lb"}});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("20 values taken in"));
  const std::string out = folder_ / "tables";
  const Ran tables = desk({"tables", "--ledger", ledger_, "--out", out, "--unit", "lb/acre"});
  ASSERT_EQ(tables.exit, 0) << tables.err;
  EXPECT_EQ(tables.err, "");
  const std::string means = files_->read(out + "/means.csv", 1 << 20).value();
  const auto mean_of = [&](const std::string& entry) {
    const std::string before = "TF26,2026,1," + entry + ",2,";
    const std::size_t at = means.find(before);
    EXPECT_NE(at, std::string::npos) << means;
    return std::stod(means.substr(at + before.size()));
  };
  // Net lb x (dried - bag) / (fresh - bag) x 43 560 / (18 ft x 3 ft); the bag is 0.1 lb.
  EXPECT_NEAR(mean_of("Alder Brook (novel)"), (20.0 * 0.25 + 22.0 * 0.25) / 2 * 43560.0 / 54.0,
              1e-8);
  EXPECT_NEAR(mean_of("Birch Run (endophyte-free)"),
              (25.0 * 0.20 + 26.0 * 0.20) / 2 * 43560.0 / 54.0, 1e-8);
}

TEST_F(TakeInCommand, SamplesMayComeLaterThanTheirPlots) {
  ASSERT_EQ(
      take_in("Plot,Weight,Bag\n101,20,7\n", {{"--columns", "plot=Plot,gross=Weight,bag=Bag"}})
          .exit,
      0);
  const Ran dried = take_in("P,Fresh,Dry\n101,510,150\n",
                            {{"--columns", "plot=P,sample_fresh=Fresh,sample_dry=Dry"},
                             {"--unit", ""},
                             {"--sample-unit", "g"}});
  ASSERT_EQ(dried.exit, 0) << dried.err;
  const Record bag = standing("101", measure::kBagNumber);
  std::vector<std::string> of_bag;
  for (const ledger::Claim& claim : claims())
    if (claim.record.subject == bag.id.uuid)
      of_bag.push_back(claim.record.measure + " " + claim.record.entered);
  EXPECT_THAT(of_bag, testing::UnorderedElementsAre("sample_fresh 510", "sample_dry 150"));
  EXPECT_THAT(opened().open_bags().value(), IsEmpty());
  // And once more: nothing changes.
  const std::string before = digest();
  EXPECT_EQ(take_in("P,Fresh,Dry\n101,510,150\n",
                    {{"--columns", "plot=P,sample_fresh=Fresh,sample_dry=Dry"},
                     {"--unit", ""},
                     {"--sample-unit", "g"}})
                .exit,
            0);
  EXPECT_EQ(digest(), before);
}

TEST_F(TakeInCommand, ColumnsTellTheTimeAndEveryDayHasItsRun) {
  const Ran ran = take_in(
      "Plot,Weight,When\n101,20,2026-05-20 10:31:07\n102,21,2026-05-21T09:00\n202,22,2026-05-20 "
      "10:40\n",
      {{"--columns", "plot=Plot,gross=Weight,time=When"}, {"--date", ""}});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  const auto runs = of_kind(kind::kHarvestRun);
  ASSERT_EQ(runs.size(), 2U);
  EXPECT_EQ(format_clock(runs[0].at), "10:31") << "as of the day's first weight";
  EXPECT_EQ(format_date(runs[1].at.local_date), "2026-05-21");
  EXPECT_EQ(detail(runs[0].details, "clock"), "");
  EXPECT_EQ(standing("102", measure::kGrossWeight).run, runs[1].id);
  EXPECT_EQ(format_clock(standing("202", measure::kGrossWeight).at), "10:40");
  // The report names a block that was cut on two days.
  const std::string out = folder_ / "tables";
  ASSERT_EQ(desk({"tables", "--ledger", ledger_, "--out", out}).exit, 0);
  EXPECT_THAT(files_->read(out + "/report.html", 1 << 20).value(),
              HasSubstr("block 1 was cut on 2026-05-20 and 2026-05-21"));
}

TEST_F(TakeInCommand, ADateColumnAndPartsOfAPlot) {
  const Ran ran =
      take_in("Plot,Bag no,Weight,Day\n101,1,10,2026-05-20\n101,2,9.5,2026-05-20\n",
              {{"--columns", "plot=Plot,part=Bag no,gross=Weight,date=Day"}, {"--date", ""}});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  std::vector<std::string> parts;
  for (const ledger::Claim& claim : claims())
    parts.push_back(std::to_string(claim.record.part) + " " + claim.record.entered);
  EXPECT_THAT(parts, testing::UnorderedElementsAre("1 10", "2 9.5"));
}

// --- what the rules say

TEST_F(TakeInCommand, WhatARuleRefusesIsRefusedAndNothingIsKept) {
  const std::string before = digest();
  const Ran ran = take_in("Plot,Weight\n101,20.5\n102,-3\n202,12 lb\n201,1600\n");
  expect_refused(ran, 1,
                 "w.csv line 3: plot 102: gross_weight -3 lb is outside of what the scale takes",
                 before);
  EXPECT_THAT(ran.err, HasSubstr("w.csv line 4: plot 202: gross_weight '12 lb' is no number"));
  EXPECT_THAT(ran.err, HasSubstr("w.csv line 5: plot 201: gross_weight 1600 lb is outside"));
  EXPECT_THAT(ran.err, HasSubstr("3 faults in "));
  EXPECT_THAT(ran.err, HasSubstr("nothing was taken in\n"));
  EXPECT_EQ(std::ranges::count(ran.err, '\n'), 4);
}

TEST_F(TakeInCommand, WhatARuleAsksAboutIsOnHoldWithTheRuleNamed) {
  const Ran ran = take_in("Plot,Weight\n101,20.5\n", {{"--date", "2025-09-01"}});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("on hold: w.csv line 2: plot 101: gross_weight 20.5 lb is of "
                                 "2025-09-01, before the sowing of 2025-09-10 (it is right? "
                                 "--accept before_sowing)"));
  EXPECT_THAT(ran.out, HasSubstr("to look at: w.csv: weights of 2025-09-01 in a cutting of 2026"));
  EXPECT_THAT(ran.out, HasSubstr("1 on hold\n"));
  const Record held = standing("101", measure::kGrossWeight);
  EXPECT_EQ(held.state, ValueState::kOnHold);
  EXPECT_THAT(held.answers, ElementsAre(Answer{"before_sowing", "not_asked"}));
  // The same again changes nothing; saying that it is right is a correction.
  const std::string before = digest();
  EXPECT_EQ(take_in("Plot,Weight\n101,20.5\n", {{"--date", "2025-09-01"}}).exit, 0);
  EXPECT_EQ(digest(), before);
  const Ran accepted = take_in(
      "Plot,Weight\n101,20.5\n",
      {{"--date", "2025-09-01"}, {"--accept", "before_sowing"}, {"--correct", "a nursery cut"}});
  ASSERT_EQ(accepted.exit, 0) << accepted.err;
  const Record stands = standing("101", measure::kGrossWeight);
  EXPECT_EQ(stands.kind, kind::kCorrection);
  EXPECT_EQ(stands.state, ValueState::kValue);
  EXPECT_EQ(stands.reason, "a nursery cut");
  EXPECT_THAT(stands.answers, ElementsAre(Answer{"before_sowing", "accepted"}));
}

TEST_F(TakeInCommand, AnAcceptedQuestionIsTakenAsAValue) {
  const Ran ran =
      take_in("Plot,Weight\n101,20.5\n", {{"--date", "2999-01-01"}, {"--accept", "in_future"}});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  const Record weight = standing("101", measure::kGrossWeight);
  EXPECT_EQ(weight.state, ValueState::kValue);
  EXPECT_THAT(weight.answers, ElementsAre(Answer{"in_future", "accepted"}));
}

TEST_F(TakeInCommand, AWeightThatCannotBeStaysOnHoldWhateverIsAccepted) {
  const std::map<std::string, std::string> tare{{"--columns", "plot=Plot,gross=Weight,tare=Tare"}};
  const Ran ran = take_in("Plot,Weight,Tare\n101,2,3\n", tare);
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("gross_weight 2 lb leaves nothing: gross is not more than tare"));
  EXPECT_EQ(standing("101", measure::kGrossWeight).state, ValueState::kOnHold);
  const std::string before = digest();
  auto accepted = tare;
  accepted["--accept"] = "gross_under_tare";
  expect_refused(take_in("Plot,Weight,Tare\n101,2,3\n", accepted), 2,
                 "'gross_under_tare' asks nothing that can be accepted (give one of stubble_low, ",
                 before);
}

TEST_F(TakeInCommand, SamplesAreHeldAgainstTheirBagAndEachOther) {
  const Ran ran =
      take_in("Plot,Weight,Bag,Fresh,Dry\n101,20,1,1.1,1.2\n102,20,2,0.1,0.1\n",
              {{"--columns", "plot=Plot,gross=Weight,bag=Bag,sample_fresh=Fresh,sample_dry=Dry"},
               {"--sample-unit", "lb"}});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, AllOf(HasSubstr("plot 101: sample_dry 1.2 lb is more than the fresh sample"),
                             HasSubstr("plot 102: sample_fresh 0.1 lb is no more than its bag"),
                             HasSubstr("plot 102: sample_dry 0.1 lb is no more than its bag"),
                             HasSubstr("rule dry_over_fresh")));
}

// A fifth off what the bags before it weigh, as on the tablet.
TEST_F(TakeInCommand, ATareThatDiffersFromThoseBeforeItIsQuestioned) {
  const std::map<std::string, std::string> tare{{"--columns", "plot=Plot,gross=Weight,tare=Tare"}};
  const Ran ran = take_in("Plot,Weight,Tare\n101,20,2\n102,21,2.4\n202,22,3\n201,23,2.4\n", tare);
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("line 4: plot 202: tare_weight 3 lb is more than a fifth off the "
                                 "tare before it, 2.4"));
  EXPECT_THAT(ran.out, HasSubstr("(it is right? --accept tare_differs)"));
  EXPECT_THAT(ran.out, HasSubstr("1 on hold"));
  EXPECT_EQ(standing("202", measure::kTareWeight).answers,
            (std::vector<Answer>{{"tare_differs", "not_asked"}}));
}

TEST_F(TakeInCommand, ATareIsHeldAgainstWhatTheLedgerHolds) {
  auto tare = std::map<std::string, std::string>{{"--columns", "plot=Plot,gross=Weight,tare=Tare"}};
  ASSERT_EQ(take_in("Plot,Weight,Tare\n101,20,2\n", tare).exit, 0);
  const std::string grown = "Plot,Weight,Tare\n101,20,2\n102,21,3\n202,22,3\n";
  EXPECT_THAT(take_in(grown, tare, {"--only-check"}).out, HasSubstr("2 on hold"));
  tare["--accept"] = "tare_differs";
  ASSERT_EQ(take_in(grown, tare).exit, 0);
  EXPECT_EQ(standing("102", measure::kTareWeight).state, ValueState::kValue);
  EXPECT_EQ(standing("102", measure::kTareWeight).answers,
            (std::vector<Answer>{{"tare_differs", "accepted"}}));
  EXPECT_TRUE(standing("202", measure::kTareWeight).answers.empty()) << "no other than before it";
  // Once more: what stands was held against the tares of its time.
  tare.erase("--accept");
  const Ran again = take_in(grown, tare);
  EXPECT_THAT(again.out, testing::Not(HasSubstr("on hold")));
}

class TakeInOfComposites : public TakeInCommand {
 protected:
  void sample_of(SampleOf of) {
    Plan plan = two_block_plan({"ridge", "north", "TF27"});
    for (PlanOccasion& occasion : plan.occasions)
      if (occasion.job == Job::kHarvest) occasion.sample_of = of;
    enrol(plan, {});
  }
  Ran take_bags(const std::string& rows, std::map<std::string, std::string> more = {}) {
    more.insert(
        {{"--trial", "TF27"},
         {"--columns", "plot=Plot,date=Day,gross=Weight,bag=Bag,sample_fresh=Fresh,sample_dry=Dry"},
         {"--sample-unit", "g"}});
    return take_in("Plot,Day,Weight,Bag,Fresh,Dry\n" + rows, more);
  }
  std::vector<Record> of(std::string_view measure) {
    std::vector<Record> found;
    const auto all = opened().claims(trial_id({"ridge", "north", "TF27"})).value();
    for (const ledger::Claim& claim : all) {
      EXPECT_EQ(claim.others, 0);
      if (claim.record.measure == measure) found.push_back(claim.record);
    }
    std::ranges::sort(found, {}, &Record::id);
    return found;
  }
  static std::string same_bag(const Record& number) { return detail(number.details, "same_bag"); }
};

// Of an entry's plots, as the plan says: one bag, weighed once.
TEST_F(TakeInOfComposites, PlotsOfAnEntryThatNameOneBagAreInIt) {
  sample_of(SampleOf::kEntry);
  const Ran ran = take_bags(
      "101,2026-05-20,20,7,510,150\n102,2026-05-20,21,8,500,\n202,2026-05-20,22,7,,\n"
      "201,2026-05-20,23,8,500,160\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr(" 0 on hold"));
  const auto numbers = of(measure::kBagNumber);
  ASSERT_EQ(numbers.size(), 4U);
  EXPECT_EQ(same_bag(numbers[0]), "");
  EXPECT_EQ(same_bag(numbers[2]), numbers[0].id.text());
  EXPECT_EQ(same_bag(numbers[3]), numbers[1].id.text());
  ASSERT_EQ(of(measure::kSampleFresh).size(), 2U) << "said at two plots, it is one weight";
  ASSERT_EQ(of(measure::kSampleDry).size(), 2U);
  EXPECT_EQ(of(measure::kSampleDry)[1].subject, numbers[1].id.uuid) << "said at the other plot";
  const std::string before = digest();
  EXPECT_EQ(take_bags("101,2026-05-20,20,7,510,150\n102,2026-05-20,21,8,500,\n"
                      "202,2026-05-20,22,7,,\n201,2026-05-20,23,8,500,160\n")
                .exit,
            0);
  EXPECT_EQ(digest(), before) << "the same file twice";
}

TEST_F(TakeInOfComposites, AFileThatGrowsFindsTheBagInTheLedger) {
  sample_of(SampleOf::kTrial);
  ASSERT_EQ(take_bags("101,2026-05-20,20,7,510,\n").exit, 0);
  const Ran ran = take_bags("101,2026-05-20,20,7,510,\n102,2026-05-20,21,7,,150\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr(" 0 on hold"));
  const auto numbers = of(measure::kBagNumber);
  ASSERT_EQ(numbers.size(), 2U);
  EXPECT_EQ(same_bag(numbers[1]), numbers[0].id.text());
  ASSERT_EQ(of(measure::kSampleDry).size(), 1U);
  EXPECT_EQ(of(measure::kSampleDry)[0].subject, numbers[0].id.uuid);
}

TEST_F(TakeInOfComposites, AnotherEntryOrDayIsAnotherBag) {
  sample_of(SampleOf::kEntry);
  const Ran entries = take_bags("101,2026-05-20,20,7,,\n102,2026-05-20,21,7,,\n");
  EXPECT_THAT(entries.out, HasSubstr("plot 102: bag_number 7 is the number of another bag"));
  const Ran days = take_bags("202,2026-05-21,21,7,,\n");
  EXPECT_THAT(days.out, HasSubstr("plot 202: bag_number 7 is the number of another bag"));
}

TEST_F(TakeInOfComposites, ABagIsWeighedOnce) {
  sample_of(SampleOf::kTrial);
  const std::string before = digest();
  expect_refused(take_bags("101,2026-05-20,20,7,510,\n102,2026-05-20,21,7,520,\n"), 1,
                 "w.csv line 3, column Fresh: bag 7 has sample_fresh 510 in line 2 and 520 here",
                 before);
  const Ran heavy = take_bags("101,2026-05-20,20,7,510,\n102,2026-05-20,21,7,,520\n");
  EXPECT_THAT(heavy.out, HasSubstr("sample_dry 520 g is more than the fresh sample"));
}

TEST_F(TakeInCommand, ABagNumberThatIsInUseIsQuestionedWithinTheFileToo) {
  const std::map<std::string, std::string> bags{{"--columns", "plot=Plot,gross=Weight,bag=Bag"}};
  const Ran ran = take_in("Plot,Weight,Bag\n101,20,7\n102,21,7\n", bags);
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("line 3: plot 102: bag_number 7 is the number of another bag"));
  EXPECT_THAT(ran.out, HasSubstr("1 on hold"));
  const Ran later = take_in("Plot,Weight,Bag\n202,20,7\n", bags);
  EXPECT_THAT(later.out, HasSubstr("plot 202: bag_number 7 is the number of another bag"));
}

TEST_F(TakeInCommand, AWeightThatComesTwiceIsQuestionedAsOnTheTablet) {
  const Ran ran = take_in("Plot,Weight\n101,20.52\n102,20.52\n202,20.52\n");
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out,
              HasSubstr("line 3: plot 102: gross_weight 20.52 lb is what plot 101 before it "
                        "weighed, too (it is right? --accept same_weight)"));
  EXPECT_THAT(ran.out, HasSubstr("2 on hold\n"));
}

// What is put right after it was questioned is not held against the file that brought it.
TEST_F(TakeInCommand, AWeightPutRightToWhatTheFileSaysStaysRight) {
  const std::string same = "Plot,Weight\n101,20.52\n102,20.52\n";
  ASSERT_EQ(take_in(same).exit, 0);
  ASSERT_EQ(standing("102", measure::kGrossWeight).state, ValueState::kOnHold);
  Record right = standing("102", measure::kGrossWeight);
  right.kind = kind::kCorrection;
  right.targets = {right.id};
  right.id.uuid.bytes[0] ^= 0x40U;
  right.state = ValueState::kValue;
  right.answers.clear();
  ASSERT_TRUE(opened().append({right}));
  const Ran again = take_in(same + "202,22\n");
  EXPECT_EQ(again.exit, 0) << again.err;
  EXPECT_EQ(standing("102", measure::kGrossWeight).state, ValueState::kValue);
  EXPECT_EQ(standing("202", measure::kGrossWeight).entered, "22");
}

// Weeds only, said at the plot, is not taken back by a better number.
TEST_F(TakeInCommand, ACorrectionLeavesWhatWasSaidWithTheWeight) {
  ASSERT_EQ(take_in("Plot,Weight\n101,20.5\n").exit, 0);
  Record weeds = standing("101", measure::kGrossWeight);
  weeds.kind = kind::kCorrection;
  weeds.targets = {weeds.id};
  weeds.id.uuid.bytes[0] ^= 0x40U;
  weeds.details = R"({"load":"net","weeds":"only"})";
  ASSERT_TRUE(opened().append({weeds}));
  ASSERT_EQ(take_in("Plot,Weight\n101,20.9\n", {{"--correct", "scale misread"}}).exit, 0);
  EXPECT_EQ(standing("101", measure::kGrossWeight).entered, "20.9");
  EXPECT_EQ(standing("101", measure::kGrossWeight).details, R"({"weeds":"only"})");
}

// A plot of a composite names the bag that another plot was given.
TEST_F(TakeInCommand, ASampleOfACompositeIsThatOfItsBag) {
  ASSERT_EQ(take_in("Plot,Weight,Bag\n101,20.5,7\n102,25,8\n",
                    {{"--columns", "plot=Plot,gross=Weight,bag=Bag"}})
                .exit,
            0);
  const Record bag = standing("101", measure::kBagNumber);
  Record member = standing("102", measure::kBagNumber);
  member.kind = kind::kCorrection;
  member.targets = {member.id};
  member.id.uuid.bytes[0] ^= 0x40U;
  member.entered = bag.entered;
  member.details = details_text({{"same_bag", bag.id.text()}});
  ASSERT_TRUE(opened().append({member}));
  const Ran ran =
      take_in("Plot,Weight,Fresh\n102,25,510\n",
              {{"--columns", "plot=Plot,gross=Weight,sample_fresh=Fresh"}, {"--sample-unit", "g"}});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  const auto all = claims();
  const auto fresh = std::ranges::find_if(all, [](const ledger::Claim& claim) {
    return claim.record.measure == measure::kSampleFresh;
  });
  ASSERT_NE(fresh, all.end());
  EXPECT_EQ(fresh->record.subject, bag.id.uuid);
}

TEST_F(TakeInCommand, AStubbleThatIsNotLowIsNoAnswer) {
  ASSERT_EQ(take_in(four_plots, {{"--stubble", "4 in"}, {"--accept", "stubble_low"}}).exit, 0);
  EXPECT_TRUE(of_kind(kind::kHarvestRun)[0].answers.empty());
}

TEST_F(TakeInCommand, ALowStubbleIsMeantOrPutRight) {
  const std::string before = digest();
  expect_refused(take_in(four_plots, {{"--stubble", "3 in"}}), 1,
                 "--stubble: a stubble of 3 in is lower than the 4 in that what grows there bears",
                 before);
  ASSERT_EQ(take_in(four_plots, {{"--stubble", "3 in"}, {"--accept", "stubble_low"}}).exit, 0);
  EXPECT_THAT(of_kind(kind::kHarvestRun)[0].answers,
              ElementsAre(Answer{"stubble_low", "go_on_low"}));
}

}  // namespace
}  // namespace ligule::desk
