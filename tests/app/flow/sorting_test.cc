// Sorting a sample by hand: the whole, then its parts, each in a bag of its own.
#include <algorithm>

#include "tests/app/flow/sorting_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

TEST_F(SortingTest, TheSampleIsFoundByItsStakeOrItsBag) {
  ASSERT_TRUE(sorting());
  EXPECT_EQ(sort().plots.size(), 6U);
  put("102");
  EXPECT_EQ(sort().plot, "102");
  tablet.tap(SortBack{});
  put("9");
  EXPECT_EQ(sort().plot, "101") << "by the bag its sample is in";
  tablet.tap(SortBack{});
  put("77");
  EXPECT_EQ(tablet.notice(), "notice.unknown_stake_or_bag");
  EXPECT_EQ(sort().plot, "");
  tablet.type("20");
  EXPECT_EQ(sort().plots.size(), 3U) << "what is typed narrows the stakes";
  tablet.tap(SortBack{});
  EXPECT_TRUE(std::holds_alternative<DryWeights>(tablet.model.screen));
}

TEST_F(SortingTest, WholeThenPartByPartIsKeptAsItIsSaid) {
  put("101");
  EXPECT_EQ(sort().fields.front().field, Field::kSortWhole);
  whole("440");
  EXPECT_EQ(last().measure, "separated_fresh");
  EXPECT_EQ(last().entered, "440");
  EXPECT_EQ(last().subject, plot_id(grass_plan().id(), "101").uuid);
  part("31", "280");
  const Record& number = tablet.ledger.at(tablet.ledger.size() - 2);
  EXPECT_EQ(number.measure, "part_bag");
  EXPECT_EQ(number.part, 1);
  EXPECT_EQ(number.entered, "31");
  EXPECT_EQ(number.state, ValueState::kValue);
  EXPECT_EQ(last().measure, "sample_fresh");
  EXPECT_EQ(last().subject, number.id.uuid) << "a bag value is about the reading that numbers it";
  EXPECT_EQ(sort().parts[2].chosen, true) << "on to the next part";
  none();
  EXPECT_EQ(last().measure, "part_bag");
  EXPECT_EQ(last().part, 2);
  EXPECT_EQ(last().state, ValueState::kZero);
  EXPECT_EQ(last().entered, "");
  EXPECT_EQ(sort().percent, "") << "nothing comparative before all is kept";
  EXPECT_EQ(sort().open, 3);
  part("32", "120");
  part("33", "100");
  part("34", "60");
  EXPECT_EQ(tablet.question(), "");
  EXPECT_EQ(sort().open, 0);
  EXPECT_EQ(sort().percent, "100.0");
  EXPECT_THAT(sort().fields, IsEmpty());
  tablet.tap(KeyDone{});
  EXPECT_EQ(sort().plot, "") << "Enter goes on to the next sample";
  EXPECT_EQ(sort().whole, 1U);
}

TEST_F(SortingTest, ThePartsBagsGoToTheOvenLikeAnySample) {
  sort_all("101", 31);
  tablet.tap(ShowDryWeights{});
  tablet.settle();
  std::vector<std::string> rows;
  for (const BagRow& bag : tablet.dry().bags) rows.push_back(bag.number + " " + bag.part);
  EXPECT_THAT(rows, ElementsAre("9 ", "31 scale.part_bag.sown", "32 scale.part_bag.grass_weed",
                                "33 scale.part_bag.broadleaf", "34 scale.part_bag.dead"));
  dry("32", "60");
  EXPECT_EQ(last().measure, "sample_dry");
  EXPECT_EQ(last().entered, "60");
  EXPECT_EQ(tablet.dry().in_oven, 4U);
  dry("33", "101");
  EXPECT_EQ(tablet.question(), "check.dry_over_fresh") << "held against its own fresh weight";
  tablet.answer("not_known");
  tablet.settle();
  tablet.type("34");
  tablet.tap(KeyDone{});
  tablet.tap(SayBagGone{"bag_burst"});
  tablet.settle();
  EXPECT_EQ(last().reason, "bag_burst");
}

TEST_F(SortingTest, PartsThatDoNotComeToTheWholeAsk) {
  put("101");
  whole("440");
  part("31", "280");
  none();
  none();
  none();
  EXPECT_EQ(tablet.question(), "");
  part("34", "187");  // 240 + 147 of 400: 96.8 %
  ASSERT_EQ(tablet.question(), "check.parts_light");
  EXPECT_THAT(tablet.model.asking->drafts.back().open.front().arguments, ElementsAre("96.8"));
  tablet.answer("weigh_again");
  EXPECT_EQ(sort().fields.back().text, "");
  EXPECT_EQ(sort().fields.front().text, "34") << "its bag stays as typed";
  tablet.type("187");
  tablet.tap(KeyDone{});
  tablet.answer("dried_while_sorting");
  tablet.settle();
  EXPECT_THAT(last().answers, ElementsAre(Answer{"parts_light", "dried_while_sorting"}));
  EXPECT_EQ(last().state, ValueState::kValue);
}

TEST_F(SortingTest, PartsHeavierThanTheWholeAskAtOnce) {
  put("101");
  whole("440");
  part("31", "453");  // 413 of 400
  ASSERT_EQ(tablet.question(), "check.parts_heavy");
  tablet.answer("whole_was_wrong");
  tablet.settle();
  EXPECT_THAT(last().answers, ElementsAre(Answer{"parts_heavy", "whole_was_wrong"}));
}

TEST_F(SortingTest, NothingOfTheLastPartAsksTooWhereTheSumIsOff) {
  put("101");
  whole("440");
  part("31", "280");
  none();
  none();
  none();
  none();
  ASSERT_EQ(tablet.question(), "check.parts_light");
  tablet.answer("weigh_again");
  EXPECT_EQ(sort().open, 1);
  EXPECT_EQ(sort().fields.front().field, Field::kSortBag);
}

TEST_F(SortingTest, ANumberInUseAsksAndBothMustBeSaid) {
  put("101");
  whole("440");
  tablet.tap(KeepSorted{});
  EXPECT_EQ(tablet.notice(), "notice.part_bag_missing");
  tablet.type("9");
  tablet.tap(KeyDone{});
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.notice(), "notice.fresh_missing");
  tablet.type("280");
  tablet.tap(KeyDone{});
  EXPECT_EQ(tablet.question(), "check.bag_in_use") << "bag 9 holds the sample of plot 101";
}

TEST_F(SortingTest, APartsBagIsInUseForTheFieldToo) {
  sort_all("101", 31);
  tablet.open(grass_plan(), "cut1");
  tablet.type("Mower 1");
  tablet.tap(StartRun{});
  tablet.settle();
  tablet.tap(GoToPlot{"103"});
  tablet.fill(Field::kGross, "31");
  tablet.fill(Field::kBag, "32");
  tablet.tap(KeepPlot{});
  EXPECT_EQ(tablet.question(), "check.bag_in_use");
}

TEST_F(SortingTest, TakeBackBringsThePartBack) {
  put("101");
  whole("440");
  part("31", "280");
  const std::size_t before = tablet.ledger.size();
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), before + 2) << "number and weight";
  EXPECT_EQ(tablet.ledger[before].kind, kind::kWithdrawal);
  EXPECT_EQ(sort().parts[1].chosen, true);
  EXPECT_EQ(sort().parts[1].bag, "");
  EXPECT_EQ(sort().open, 5);
}

TEST_F(SortingTest, APartIsPutRightAndNothingBecomesSomething) {
  sort_all("101", 31);
  tablet.tap(SortPart{2});
  part("35", "41");
  EXPECT_EQ(last_of("part_bag").kind, kind::kCorrection);
  EXPECT_EQ(last_of("part_bag").state, ValueState::kValue);
  EXPECT_EQ(last().measure, "sample_fresh");
  const std::optional<Uuid> subject = last().subject;
  const Record* first = nullptr;
  for (const Record& record : tablet.ledger) {
    if (record.measure == "part_bag" && record.part == 2 && first == nullptr) first = &record;
  }
  EXPECT_EQ(subject, first->id.uuid) << "the slot began with the reading that said nothing";
  tablet.tap(SortPart{2});
  none();
  EXPECT_EQ(tablet.notice(), "notice.part_was_weighed");
}

TEST_F(SortingTest, WhatIsNotSavedIsGoneBackTo) {
  put("101");
  whole("440");
  tablet.break_disk(true);
  tablet.type("31");
  tablet.tap(KeyDone{});
  tablet.type("280");
  tablet.tap(KeyDone{});
  tablet.tap(ShowDryWeights{});
  tablet.settle();
  ASSERT_TRUE(tablet.model.unsaved);
  ASSERT_TRUE(sorting());
  EXPECT_EQ(sort().plot, "101");
  EXPECT_EQ(sort().parts[1].mark, Mark::kNotSaved);
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  EXPECT_EQ(sort().parts[1].mark, Mark::kKept);
}

TEST_F(SortingTest, SeveralCuttingsAreAskedAboutPlannedOnesFirst) {
  OccasionProgress more;
  more.trial = grass_plan().id();
  more.occasion = occasion("cut2");
  more.done = 1;
  tablet.today_answer.progress.push_back(more);
  for (PlanOccasion& each : tablet.model.trials.front().plan.occasions) {
    if (each.code == "cut2") each.measures.emplace_back(measure::kPartBag);
  }
  tablet.tap(ShowToday{});
  tablet.settle();
  show();
  ASSERT_FALSE(sorting());
  const auto rows = tablet.dry().cuttings;
  ASSERT_EQ(rows.size(), 2U);
  EXPECT_TRUE(rows.front().planned);
  EXPECT_EQ(rows.front().cutting, 2);
  tablet.tap(ShowSorting{});
  EXPECT_THAT(tablet.dry().cuttings, IsEmpty()) << "not now";
  tablet.tap(ShowSorting{});
  tablet.tap(SortCutting{rows.back().trial, rows.back().occasion});
  tablet.settle();
  EXPECT_TRUE(sorting());
}

TEST_F(SortingTest, TheDaysEndNamesWhatIsSortedInPart) {
  put("101");
  whole("440");
  part("31", "280");
  const auto progress = [&] {
    const KnownTrial trial{grass_plan(), "", {}};
    const PlanOccasion cut = *std::ranges::find(trial.plan.occasions, "cut1", &PlanOccasion::code);
    return progress_of(trial, cut, test_definitions(), tablet.claims(occasion("cut1")),
                       tablet.model.now.local_date);
  };
  EXPECT_THAT(progress().unsorted, ElementsAre("101"));
  none();
  none();
  none();
  part("34", "200");
  EXPECT_THAT(progress().unsorted, IsEmpty());
}

TEST_F(SortingTest, HistoryNamesThePartsAndTheirBagsWeights) {
  sort_all("101", 31);
  dry("32", "60");
  tablet.look_over(grass_plan(), "cut1");
  tablet.tap(ShowHistory{"101"});
  tablet.settle();
  const auto rows = tablet.history().rows;
  ASSERT_FALSE(rows.empty());
  EXPECT_EQ(rows.front().measure, "sample_dry");
  EXPECT_EQ(rows.front().part, "scale.part_bag.grass_weed");
  const auto nothing = std::ranges::find(rows, "sort.none", &HistoryRow::shown_word);
  ASSERT_NE(nothing, rows.end());
  EXPECT_EQ(nothing->part, "scale.part_bag.other_sown");
}

// The plot's sample bag and a part's bag each keep to their own weights when one is put right.
TEST_F(SortingTest, AWeightPutRightIsHeldAgainstItsOwnBag) {
  sort_all("101", 31);
  dry("32", "60");
  tablet.look_over(grass_plan(), "cut1");
  tablet.tap(ShowHistory{"101"});
  tablet.settle();
  tablet.tap(MendValue{last_of("sample_dry").id});
  tablet.type("121");  // fresh it weighs 120
  tablet.tap(MendFor{"misread"});
  EXPECT_EQ(tablet.question(), "check.dry_over_fresh");
  tablet.answer("not_known");
  tablet.settle();
  const Record fresh = *std::ranges::find_if(tablet.ledger, [](const Record& record) {
    return record.measure == "sample_fresh" && record.entered == "280";
  });
  tablet.tap(MendValue{fresh.id});
  tablet.type("260");  // 380 of 400 g
  tablet.tap(MendFor{"misread"});
  EXPECT_EQ(tablet.question(), "check.parts_light");
  tablet.answer("dried_while_sorting");
  tablet.settle();
  EXPECT_EQ(last().entered, "260");
  const Record& number = last_of("part_bag");
  tablet.tap(MendValue{number.id});
  tablet.type("99");
  tablet.tap(MendFor{"misread"});
  tablet.settle();
  EXPECT_EQ(last().measure, "part_bag");
  EXPECT_EQ(last().entered, "99") << "a label is typed, although its scale has steps";
}

TEST_F(SortingTest, APartsFreshWeightIsPutRightWhereItIsHeldAgainstTheWhole) {
  sort_all("101", 11);
  tablet.tap(ShowDryWeights{});
  tablet.settle();
  tablet.type("12");
  tablet.tap(KeyDone{});
  const std::size_t kept = tablet.ledger.size();
  tablet.fill(Field::kDryFresh, "300");
  tablet.tap(KeepDry{});
  tablet.settle();
  EXPECT_EQ(tablet.notice(), "notice.part_in_sort");
  EXPECT_EQ(tablet.ledger.size(), kept);
  EXPECT_EQ(tablet.text(Field::kDryFresh), "120") << "what stands is shown again";
  tablet.type("70");
  tablet.tap(KeepDry{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().measure, "sample_dry");
}

// Dead leaves are dry: 20 of 20 g.
TEST_F(SortingTest, ThePartsDryMatterIsNotAskedAbout) {
  tablet.model.setup.definitions.limits = {
      {std::string(kDryMatterPercent), "", "", "percent", 10, 50, "s"}};
  sort_all("101", 11);
  dry("14", "59");
  EXPECT_EQ(tablet.question(), "");
  EXPECT_EQ(tablet.ledger.back().entered, "59");
}

TEST_F(SortingTest, ASlideTakesSamplePartsAndBagsAlong) {
  sort_all("101", 31);
  dry("31", "120");
  const Standing was = standing("cut1");
  review("cut1");
  slide("101", "101", 1);
  const Standing now = standing("cut1");
  EXPECT_EQ((now.at({"102", "separated_fresh", 1})), "value 440g");
  EXPECT_EQ((now.at({"102", "part_bag", 1})), "value 31");
  EXPECT_EQ((now.at({"102", "part_bag", 2})), "zero ");
  EXPECT_EQ((now.at({"102", "part1/sample_fresh", 1})), "value 280g");
  EXPECT_EQ((now.at({"102", "part1/sample_dry", 1})), "value 120g");
  EXPECT_EQ((now.at({"102", "part5/sample_fresh", 1})), "value 60g");
  EXPECT_FALSE(now.contains({"101", "part_bag", 1}));
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(standing("cut1"), was);
}

TEST_F(SortingTest, ASlideOntoAnotherSortedSampleLeavesNothingOfIt) {
  sort_all("101", 31);
  tablet.tap(SortBack{});
  put("102");
  whole("300");
  part("51", "200");
  part("52", "100");
  const Standing was = standing("cut1");
  review("cut1");
  slide("101", "101", 1);
  const Standing now = standing("cut1");
  EXPECT_EQ((now.at({"102", "separated_fresh", 1})), "value 440g");
  EXPECT_EQ((now.at({"102", "part1/sample_fresh", 1})), "value 280g");
  EXPECT_EQ((now.at({"102", "part_bag", 2})), "zero ");
  EXPECT_FALSE(now.contains({"102", "part2/sample_fresh", 1})) << "what was in bag 52 is nobody's";
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(standing("cut1"), was);
}

TEST_F(SortingTest, WeedsByEyeAreTypedAtTheScale) {
  for (PlanOccasion& each : tablet.model.trials.front().plan.occasions) {
    if (each.code == "cut1") each.measures.emplace_back(measure::kWeedsByEye);
  }
  tablet.open(grass_plan(), "cut1");
  tablet.type("Mower 1");
  tablet.tap(StartRun{});
  tablet.settle();
  tablet.tap(ShowPage{PlotPage::kMore});
  ASSERT_TRUE(tablet.weighing().more);
  EXPECT_TRUE(tablet.weighing().more->asks_weeds);
  tablet.tap(ShowPage{PlotPage::kWeeds});
  tablet.type("140");
  tablet.tap(KeepSwath{});
  EXPECT_EQ(tablet.notice(), "check.off_scale");
  tablet.tap(KeyErase{});
  tablet.tap(KeyErase{});
  tablet.type("5");
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().measure, "weeds_by_eye");
  EXPECT_EQ(last().entered, "15");
  tablet.tap(ShowPage{PlotPage::kMore});
  EXPECT_EQ(tablet.weighing().more->weeds, "15\u00a0%");
}

// Proves: what is half typed of a part is found again on it.
TEST_F(SortingTest, WhatIsHalfTypedWaitsOnItsPart) {
  put("101");
  whole("440");
  tablet.type("21");
  tablet.tap(KeyDone{});
  tablet.type("8");
  tablet.tap(SortPart{3});
  EXPECT_EQ(tablet.text(Field::kSortBag), "");
  tablet.tap(SortBack{});
  show();
  put("101");
  EXPECT_EQ(tablet.text(Field::kSortBag), "21");
  tablet.type("0");
  EXPECT_EQ(tablet.text(Field::kSortFresh), "80") << "it goes on where it stopped";
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_EQ(last().entered, "80");
  EXPECT_TRUE(tablet.model.sort_begun.empty());
}

TEST_F(SortingTest, APartTakenBackIsNothingHalfTyped) {
  put("101");
  whole("440");
  part("21", "80");
  tablet.tap(SortPart{1});
  ASSERT_EQ(tablet.text(Field::kSortFresh), "80");
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.text(Field::kSortFresh), "");
  EXPECT_TRUE(tablet.model.sort_begun.empty());
}

}  // namespace
}  // namespace ligule::flow
