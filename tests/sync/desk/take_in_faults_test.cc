// take-in: what stands already, rows that can't be, and arguments that do not fit.
#include "tests/sync/desk/take_in_fixture.h"

namespace ligule::desk {
namespace {

using testing::AllOf;
using testing::ElementsAre;
using testing::HasSubstr;

// --- what stands already

TEST_F(TakeInCommand, AWeightThatStandsIsNotOverwrittenUnlessCorrectionsAreAskedFor) {
  ASSERT_EQ(take_in(four_plots).exit, 0);
  const std::string before = digest();
  const std::string other = "Plot,Weight\n101,21.5\n102,25\n";
  const Ran ran = take_in(other);
  expect_refused(ran, 1,
                 "w.csv line 2: plot 101 has gross_weight 20.5 lb already (KV, 2026-05-20), the "
                 "file says 21.5 lb (leave the row out, or give --correct REASON)",
                 before);
  const auto runs = of_kind(kind::kHarvestRun).size();
  const Record first = standing("101", measure::kGrossWeight);
  const Ran corrected = take_in(other, {{"--correct", "scale read again"}, {"--operator", "JRM"}});
  ASSERT_EQ(corrected.exit, 0) << corrected.err;
  EXPECT_THAT(corrected.out,
              HasSubstr("0 values taken in from w.csv, 1 corrected, 1 there already"));
  const Record now = standing("101", measure::kGrossWeight);
  EXPECT_EQ(now.entered, "21.5");
  EXPECT_THAT(now.targets, ElementsAre(first.id));
  EXPECT_EQ(now.reason, "scale read again");
  EXPECT_EQ(now.run, first.run) << "it stays with the run that cut it";
  EXPECT_EQ(of_kind(kind::kHarvestRun).size(), runs);
}

TEST_F(TakeInCommand, AnotherUnitIsAnotherWeight) {
  ASSERT_EQ(take_in(four_plots).exit, 0);
  const std::string before = digest();
  expect_refused(take_in(four_plots, {{"--unit", "kg"}}), 1, "the file says 20.5 kg", before);
}

TEST_F(TakeInCommand, AReasonForNoWeightIsNotOverwrittenAndALaterIs) {
  ASSERT_EQ(take_in("Plot,Weight\n101,20\n").exit, 0);
  const Record weight = standing("101", measure::kGrossWeight);
  const auto stand = [&](const std::string& plot, ValueState state, const std::string& reason) {
    Record record = weight;
    record.subject = plot_id(trial(), plot).uuid;
    record.id.uuid.bytes[15] ^= static_cast<std::uint8_t>(plot == "102" ? 1 : 2);
    record.stream = {};
    record.seq = 0;
    record.state = state;
    record.entered.clear();
    record.value.reset();
    record.raw.clear();
    record.reason = reason;
    auto ledger = opened();
    ASSERT_TRUE(ledger.append({record}));
  };
  stand("102", ValueState::kMissing, "bag_spilled");
  stand("201", ValueState::kLater, "");
  const std::string before = digest();
  expect_refused(take_in(four_plots), 1, "plot 101 has gross_weight 20 lb already", before);
  expect_refused(take_in("Plot,Weight\n102,25\n"), 1,
                 "plot 102 has gross_weight no weight (bag_spilled) already", before);
  ASSERT_EQ(take_in("Plot,Weight\n201,26\n").exit, 0);
  EXPECT_EQ(standing("201", measure::kGrossWeight).reason, "after_later");
}

TEST_F(TakeInCommand, ValuesThatContradictEachOtherAreSettledFirst) {
  ASSERT_EQ(take_in("Plot,Weight\n101,20\n").exit, 0);
  Record second = standing("101", measure::kGrossWeight);
  second.id.uuid.bytes[15] ^= 1;
  second.stream = {};
  second.seq = 0;
  second.entered = "21";
  second.value = 21;
  {
    auto ledger = opened();
    ASSERT_TRUE(ledger.append({second}));
  }
  const std::string before = digest();
  expect_refused(take_in("Plot,Weight\n101,20\n", {{"--correct", "again"}}), 1,
                 "plot 101: gross_weight stands 2 times already (settle that first)", before);
}

// --- rows that can't be

TEST_F(TakeInCommand, EveryFaultOfTheFileIsOneLine) {
  const std::string before = digest();
  const Ran ran = take_in(
      "Plot,Weight,Part,When\n999,20,1,10:00\n101,20,1,10:00\n101,21,1,10:05\n102,20,0,10:00\n"
      "201,20,1,ten\n202,20,1,2026-02-30 10:00\n",
      {{"--columns", "plot=Plot,gross=Weight,part=Part,time=When"}});
  EXPECT_EQ(ran.exit, 1);
  EXPECT_THAT(ran.err,
              AllOf(HasSubstr("w.csv line 2: plot 999 is not in the plan of TF26"),
                    HasSubstr("w.csv line 4: plot 101 stands twice, first in line 3"),
                    HasSubstr("w.csv line 5: '0' is no part of a plot"),
                    HasSubstr("w.csv line 6, column When: 'ten' is no time"),
                    HasSubstr("w.csv line 7, column When: '2026-02-30 10:00' is no time")));
  EXPECT_EQ(std::ranges::count(ran.err, '\n'), 6) << ran.err;
  EXPECT_EQ(digest(), before);
}

TEST_F(TakeInCommand, WithoutADayNothingIsTakenIn) {
  const std::string before = digest();
  expect_refused(take_in(four_plots, {{"--date", ""}}), 1, "nothing tells the day of this weight",
                 before);
  expect_refused(take_in("Plot,Weight,Day\n101,20,5/20/2026\n",
                         {{"--columns", "plot=Plot,gross=Weight,date=Day"}}),
                 1, "w.csv line 2, column Day: '5/20/2026' is not a date", before);
}

TEST_F(TakeInCommand, TwoColumnsThatTellTwoDaysAreAFault) {
  const std::string before = digest();
  const std::map<std::string, std::string> both{
      {"--columns", "plot=Plot,gross=Weight,date=Day,time=When"}, {"--date", ""}};
  const std::string header = "Plot,Weight,Day,When\n101,20,2026-05-20,2026-05-20 10:00\n";
  expect_refused(take_in(header + "102,21,2026-05-20,2026-05-21 10:05\n", both), 1,
                 "w.csv line 3, column When: the time is of 2026-05-21, the date column says "
                 "2026-05-20",
                 before);
  EXPECT_EQ(take_in(header + "102,21,,2026-05-21 10:05\n", both).exit, 0);
}

TEST_F(TakeInCommand, ASampleNeedsItsBag) {
  const std::string before = digest();
  expect_refused(
      take_in("Plot,Weight,Fresh\n101,20,500\n",
              {{"--columns", "plot=Plot,gross=Weight,sample_fresh=Fresh"}, {"--sample-unit", "g"}}),
      1, "plot 101 has a sample and no bag number", before);
}

TEST_F(TakeInCommand, BlankWeightsAreFaultsUntilTheyAreLeftOut) {
  const std::string before = digest();
  expect_refused(take_in("Plot,Weight\n101,20\n102,\n"), 1, "plot 102 has no weight", before);
  const Ran ran = take_in("Plot,Weight\n101,20\n102,\n", {}, {"--leave-blanks"});
  ASSERT_EQ(ran.exit, 0) << ran.err;
  EXPECT_THAT(ran.out, HasSubstr("no weight, left out: plots 102\n"));
}

TEST_F(TakeInCommand, OnlyCheckingKeepsNothing) {
  const std::string before = digest();
  const Ran ran = take_in(four_plots, {}, {"--only-check"});
  EXPECT_EQ(ran.exit, 0);
  EXPECT_THAT(ran.out, HasSubstr("4 values would be taken in from w.csv"));
  EXPECT_EQ(digest(), before);
}

// --- arguments and files

TEST_F(TakeInCommand, ArgumentsThatDoNotFitAreOneLineAndExitTwo) {
  const std::string before = digest();
  const std::pair<std::map<std::string, std::string>, const char*> wrong[] = {
      {{{"--unit", "st"}}, "--unit: 'st' is no unit of these weights (give one of kg, lb)"},
      {{{"--unit", ""}}, "--unit: the unit of the weights is not given (give one of kg, lb)"},
      {{{"--columns", "plot=Plot,bag=B,sample_fresh=F"}}, "--sample-unit: the unit of the weights"},
      {{{"--columns", "plot=Plot"}}, "no column holds a weight"},
      {{{"--trial", "XX"}}, "holds no trial 'XX' (give one of ridge/north/TF26)"},
      {{{"--cutting", "2"}}, "TF26 plans no cutting 2026/2 (give one of 2026/1)"},
      {{{"--year", "2025"}}, "TF26 plans no cutting 2025/1"},
      {{{"--year", "last"}}, "\"last\" cannot be used"},
      {{{"--date", "20 May"}}, "--date: '20 May' is not a date"},
      {{{"--accept", "everything"}}, "'everything' asks nothing that can be accepted"},
      {{{"--accept", "rater_changed"}}, "'rater_changed' asks nothing that can be accepted"},
      {{{"--stubble", "3"}}, "--stubble: '3' is no length"},
      {{{"--cut-width", "wide"}}, "--cut-width: 'wide' is no length"},
      {{{"--surface", "wet"}}, "\"wet\" cannot be used"},
      {{{"--correct", " "}}, "--correct: it is empty"},
      {{{"--operator", " "}}, "--operator: it is empty"},
      {{{"--machine", ""}}, "--machine"},
      {{{"--today", "2026-06-01"}}, "the ledger is real (leave --today out)"},
      {{{"--device", "Barn"}}, "the ledger is that of Office"}};
  for (const auto& [options, says] : wrong) {
    const Ran ran = take_in(four_plots, options);
    expect_refused(ran, 2, says, before);
    EXPECT_EQ(std::ranges::count(ran.err, '\n'), 1) << ran.err;
    EXPECT_EQ(ran.out, "");
  }
}

TEST_F(TakeInCommand, FilesThatAreNotThereAreExitTwo) {
  const std::string before = digest();
  const Ran no_file = desk({"take-in",    folder_ / "none.csv",
                            "--ledger",   ledger_,
                            "--trial",    "TF26",
                            "--year",     "2026",
                            "--cutting",  "1",
                            "--columns",  "plot=P,gross=W",
                            "--unit",     "lb",
                            "--machine",  "M",
                            "--operator", "KV",
                            "--date",     "2026-05-20"});
  expect_refused(no_file, 2, "none.csv", before);
  EXPECT_THAT(no_file.err, HasSubstr("nothing was taken in\n"));
  const std::string none = folder_ / "none.ligule";
  const Ran no_ledger = take_in(four_plots, {{"--ledger", none}});
  EXPECT_EQ(no_ledger.exit, 2);
  EXPECT_FALSE(std::filesystem::exists(none)) << "none is made under a mistyped name";
}

TEST_F(TakeInCommand, TrialsOfOneCodeAreToldApartByTheirSite) {
  enrol(two_block_plan({"ridge", "south", "TF26"}), {});
  const std::string before = digest();
  expect_refused(
      take_in(four_plots), 2,
      "several trials are called 'TF26' (give one of ridge/north/TF26, ridge/south/TF26)", before);
  EXPECT_EQ(take_in(four_plots, {{"--trial", "south/TF26"}}).exit, 0);
  EXPECT_EQ(take_in(four_plots, {{"--trial", "ridge/north/TF26"}}).exit, 0);
}

TEST_F(TakeInCommand, ALedgerWithoutRecordsOfItsOwnNeedsAName) {
  ASSERT_EQ(desk({"seal", "--ledger", ledger_, "--out", folder_ / "out"}).exit, 0);
  const std::string season = folder_ / "out" / files_->list(folder_ / "out").value().front();
  const std::string desk_ledger = folder_ / "desk.ligule";
  ASSERT_EQ(desk({"trust", "--ledger", desk_ledger, ledger_ + ".pub"}).exit, 0);
  ASSERT_EQ(desk({"gather", "--ledger", desk_ledger, season}).exit, 0);
  const Ran nameless = take_in(four_plots, {{"--ledger", desk_ledger}});
  EXPECT_EQ(nameless.exit, 2);
  EXPECT_THAT(nameless.err, HasSubstr("give --device NAME"));
  EXPECT_EQ(take_in(four_plots, {{"--ledger", desk_ledger}}, {"--only-check"}).exit, 0);
  const Ran named = take_in(four_plots, {{"--ledger", desk_ledger}, {"--device", "Desk"}});
  ASSERT_EQ(named.exit, 0) << named.err;
  const auto ledger = ledger::Ledger::open(desk_ledger).value();
  EXPECT_EQ(ledger.my_stream()->device, "Desk");
  EXPECT_EQ(ledger.claims(trial()).value().size(), 4U);
  EXPECT_TRUE(std::filesystem::exists(desk_ledger + ".key"));
}

TEST_F(TakeInCommand, ADemonstrationComesOutTheSameEveryTime) {
  std::vector<std::string> digests;
  for (const char* name : {"one.ligule", "two.ligule"}) {
    ledger_ = folder_ / name;
    enrol(two_block_plan({"ridge", "north", "TF26"}), {"--demo", "--today", "2026-05-20"});
    EXPECT_EQ(take_in(four_plots).exit, 2) << "it has an invented day";
    const Ran ran = take_in(four_plots, {{"--today", "2026-05-21"}});
    ASSERT_EQ(ran.exit, 0) << ran.err;
    digests.push_back(digest());
  }
  EXPECT_EQ(digests[0], digests[1]);
}

}  // namespace
}  // namespace ligule::desk
