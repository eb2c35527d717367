// One sample bag for the plots of an entry, or for the whole trial.
#include "storage/trial/details.h"
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;

class CompositeBag : public HarvestTest {
 protected:
  // Of the six plots 101 and 202 hold A, 102 and 203 B, 103 and 201 C.
  void sample(SampleOf of) {
    for (KnownTrial& trial : tablet.model.trials) {
      for (PlanOccasion& occasion : trial.plan.occasions)
        if (occasion.code == "cut1") occasion.sample_of = of;
    }
    tablet.open(grass_plan(), "cut1");
    start();
  }
  void go_to(const std::string& plot) { tablet.tap(GoToPlot{plot}); }
  [[nodiscard]] std::string same_bag(const Record& record) {
    return detail(record.details, "same_bag");
  }
};

TEST_F(CompositeBag, TheSecondPlotOfAnEntryGoesIntoTheSameBag) {
  sample(SampleOf::kEntry);
  weigh("30", "12", "400");
  tablet.settle();
  const Record first = last_of(measure::kBagNumber);
  EXPECT_EQ(same_bag(first), "");
  EXPECT_EQ(tablet.text(Field::kBag), "") << "plot 102 holds another entry";
  go_to("202");
  EXPECT_EQ(tablet.text(Field::kBag), "12");
  weigh("28");
  tablet.settle();
  EXPECT_EQ(tablet.question(), "") << "its own bag is no bag in use";
  const Record second = last_of(measure::kBagNumber);
  EXPECT_NE(second.id, first.id);
  EXPECT_EQ(second.entered, "12");
  EXPECT_EQ(same_bag(second), first.id.text());
  EXPECT_EQ(tablet.mark("202"), Mark::kKept) << "done with weight and bag";
  // One sample, weighed once: its fresh weight shows at both plots.
  go_to("202");
  EXPECT_EQ(tablet.text(Field::kSampleFresh), "400");
  tablet.fill(Field::kSampleFresh, "410");
  tablet.tap(KeepPlot{});
  tablet.settle();
  EXPECT_EQ(last_of(measure::kSampleFresh).subject, first.id.uuid);
  EXPECT_EQ(last_of(measure::kSampleFresh).kind, kind::kCorrection);
}

TEST_F(CompositeBag, AnotherNumberIsAnotherBag) {
  sample(SampleOf::kEntry);
  weigh("30", "12", "400");
  tablet.settle();
  go_to("202");
  weigh("28", "13", "390");
  tablet.settle();
  EXPECT_EQ(same_bag(last_of(measure::kBagNumber)), "");
}

TEST_F(CompositeBag, ANumberPutRightToAnotherBagTakesItsOwnSample) {
  sample(SampleOf::kEntry);
  weigh("30", "12", "400");
  tablet.settle();
  const Record shared = last_of(measure::kBagNumber);
  go_to("202");
  weigh("28");
  tablet.settle();
  const Record member = last_of(measure::kBagNumber);
  go_to("202");
  weigh("28", "13", "350");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kSampleFresh).subject, member.id.uuid) << "not bag 12's";
  EXPECT_EQ(last_of(measure::kSampleFresh).kind, kind::kReading);
  go_to("101");
  EXPECT_EQ(tablet.text(Field::kSampleFresh), "400");
}

TEST_F(CompositeBag, ANumberPutRightInReviewLeavesTheCommonBagOnlyForAnother) {
  sample(SampleOf::kTrial);
  weigh("30", "12", "400");
  weigh("29");
  weigh("28", "13");
  tablet.settle();
  const auto number = [&](const std::string& plot) {
    const Uuid subject = plot_id(grass_plan().id(), plot).uuid;
    return *std::ranges::find_if(
        tablet.ledger.rbegin(), tablet.ledger.rend(), [&](const Record& record) {
          return record.measure == measure::kBagNumber && record.subject == subject;
        });
  };
  const auto mend = [&](const std::string& plot, std::string_view to) {
    tablet.look_over(grass_plan(), "cut1");
    tablet.tap(ShowHistory{plot});
    tablet.settle();
    tablet.tap(MendValue{number(plot).id});
    tablet.type(to);
    tablet.tap(MendFor{"misread"});
    tablet.settle();
  };
  const RecordId first = number("101").id;
  const RecordId other = number("103").id;
  ASSERT_EQ(same_bag(number("102")), first.text());
  // Into the bag of another plot, and back again.
  mend("102", "13");
  EXPECT_EQ(tablet.question(), "") << "a bag it may share is no bag in use";
  EXPECT_EQ(same_bag(number("102")), other.text());
  mend("102", "12");
  EXPECT_EQ(same_bag(number("102")), first.text());
  EXPECT_EQ(tablet.notice(), "");
  // The number of the common bag itself was misread: it is the same bag for both.
  mend("101", "14");
  EXPECT_EQ(same_bag(number("101")), "");
  mend("102", "14");
  EXPECT_EQ(same_bag(number("102")), first.text());
  // A bag that nobody has given yet is its own, and is told.
  mend("102", "15");
  EXPECT_EQ(same_bag(number("102")), "");
  EXPECT_EQ(tablet.notice(), "notice.bag_of_its_own");
}

TEST_F(CompositeBag, ABagNumberedByMistakeIsPutIntoTheCommonOne) {
  sample(SampleOf::kEntry);
  weigh("30", "12", "400");
  tablet.settle();
  const Record shared = last_of(measure::kBagNumber);
  go_to("202");
  weigh("28", "13");
  tablet.settle();
  go_to("202");
  weigh("28", "12");
  tablet.settle();
  EXPECT_EQ(last_of(measure::kBagNumber).kind, kind::kCorrection);
  EXPECT_EQ(same_bag(last_of(measure::kBagNumber)), shared.id.text());
}

TEST_F(CompositeBag, AnotherPlotsFreshWeightIsNotPutRightUnseen) {
  sample(SampleOf::kEntry);
  weigh("30", "12", "400");
  tablet.settle();
  go_to("202");
  weigh("28", "12", "410");
  tablet.settle();
  EXPECT_EQ(tablet.notice(), "notice.fresh_stands");
  EXPECT_EQ(last_of(measure::kSampleFresh).entered, "400");
  tablet.fill(Field::kSampleFresh, "400");
  tablet.tap(KeepPlot{});
  tablet.settle();
  EXPECT_EQ(tablet.mark("202"), Mark::kKept);
}

TEST_F(CompositeBag, OneBagForTheTrialThatDay) {
  sample(SampleOf::kTrial);
  weigh("30", "12", "400");
  tablet.settle();
  EXPECT_EQ(tablet.text(Field::kBag), "12");
  weigh("29");
  tablet.settle();
  EXPECT_NE(same_bag(last_of(measure::kBagNumber)), "");
  tablet.next_day();
  tablet.open(grass_plan(), "cut1");
  start();
  EXPECT_EQ(tablet.text(Field::kBag), "") << "another day's sample is another one";
}

TEST_F(CompositeBag, ThePlansRuleIsAPlotItsBag) {
  start();
  weigh("30", "12", "400");
  tablet.settle();
  go_to("202");
  EXPECT_EQ(tablet.text(Field::kBag), "");
}

TEST_F(CompositeBag, ABagOfSeveralPlotsIsNotSlid) {
  sample(SampleOf::kEntry);
  weigh("30", "12", "400");
  tablet.settle();
  tablet.look_over(grass_plan(), "cut1");
  tablet.tap(ShowSlide{});
  tablet.tap(ChooseSlidePlot{"101"});
  tablet.tap(SlideBy{1});
  const auto slide = std::get<SlideView>(tablet.review().page);
  ASSERT_TRUE(slide.problem);
  EXPECT_EQ(slide.problem->key, "slide.composite");
  EXPECT_FALSE(slide.can_do);
}

TEST_F(CompositeBag, TheDryingRoomHasItOnceWithItsPlots) {
  sample(SampleOf::kEntry);
  weigh("30", "12", "400");
  go_to("202");
  weigh("28");
  tablet.settle();
  tablet.tap(ShowDryWeights{});
  tablet.settle();
  ASSERT_EQ(tablet.dry().bags.size(), 1U);
  EXPECT_EQ(tablet.dry().bags.front().plot, "101, 202");
}

// A plot is done with its weight and its bag's number; the fresh weight may come later.
TEST_F(HarvestTest, APlotIsDoneWithItsWeightAndItsBag) {
  start();
  weigh("30");
  tablet.settle();
  EXPECT_EQ(tablet.mark("101"), Mark::kOpen) << "its bag is missing";
  tablet.tap(GoToPlot{"101"});
  weigh("30", "12");
  tablet.settle();
  EXPECT_EQ(tablet.mark("101"), Mark::kKept);
}

TEST_F(HarvestTest, ASecondEnterLeavesTheFreshWeightForLater) {
  start();
  tablet.type("30");
  tablet.tap(KeyDone{});
  tablet.tap(FocusField{Field::kBag});
  tablet.type("12");
  tablet.tap(KeyDone{});
  EXPECT_TRUE(tablet.weighing().fields.back().focused);
  const std::string plot = tablet.weighing().plot;
  tablet.tap(KeyDone{});
  tablet.settle();
  EXPECT_NE(tablet.weighing().plot, plot) << "kept, and on to the next";
  EXPECT_EQ(last_of(measure::kBagNumber).entered, "12");
}

TEST_F(HarvestTest, ThePlansOfTheDayNameBagsWithoutAFreshWeight) {
  start();
  weigh("30", "12");
  weigh("31", "13", "400");
  tablet.settle();
  const Plan plan = grass_plan();
  const PlanOccasion& cut = plan.occasions[1];
  const auto progress = progress_of({plan, "", {}}, cut, test_definitions(),
                                    tablet.claims(plan.occasion(cut)), tablet.model.now.local_date);
  EXPECT_THAT(progress.not_fresh, ElementsAre("12"));
  EXPECT_EQ(progress.done, 2) << "done all the same";
}

}  // namespace
}  // namespace ligule::flow
