// Dates reached: what each visit says of the plots of a block.
#include "app/flow/closing_looks.h"
#include "app/flow/stake.h"
#include "storage/trial/reached.h"
#include "tests/app/flow/pads_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;

class Visits : public Pads {
 protected:
  Visits() { open("heading"); }

  const VisitView& plot(std::string_view number) {
    shown_ = visits();
    return *std::ranges::find(shown_.plots, number, &VisitView::plot);
  }
  void come_back() {
    tablet.next_day();
    tablet.tap(Tick{});
    open("heading");
  }

 private:
  VisitsView shown_;
};

TEST_F(Visits, OneTapSaysThatAPlotReachedItToday) {
  fresh();
  EXPECT_THAT(visits().blocks, ElementsAre(1, 2));
  EXPECT_EQ(visits().block, 1);
  EXPECT_EQ(visits().plots.size(), 3U);
  pad(MarkReached{"102"});
  ASSERT_EQ(fresh(), 1U);
  EXPECT_EQ(last().entered, "reached");
  EXPECT_EQ(last().value, 1.0);
  EXPECT_EQ(last().part, visit_part(last().at.local_date, 2026));
  EXPECT_EQ(last().kind, kind::kReading);
  EXPECT_TRUE(plot("102").reached);
  EXPECT_EQ(visits().unsaid, 2U);
  EXPECT_EQ(measure().shown, "1/6");
  EXPECT_EQ(tablet.mark("102"), Mark::kKept);
}

TEST_F(Visits, TappedAgainItIsTakenBack) {
  pad(MarkReached{"102"});
  fresh();
  pad(MarkReached{"102"});
  ASSERT_EQ(fresh(), 1U);
  EXPECT_EQ(last().kind, kind::kWithdrawal);
  EXPECT_FALSE(plot("102").reached);
  pad(MarkReached{"999"});
  EXPECT_EQ(fresh(), 0U);
}

// Proves: what was said not yet is no plot put off: the next visit comes, nobody is asked to close.
TEST_F(Visits, ADateIsNotOfferedToBeClosedWhilePlotsHaveNotReachedIt) {
  pad(MarkReached{"102"});
  pad(OthersNotYet{});
  pad(ShowBlock{2});
  pad(OthersNotYet{});
  fresh();
  EXPECT_FALSE(tablet.rate().can_close);
  for (const char* number : {"101", "103", "201", "202", "203"}) {
    come_back();
    pad(MarkReached{number});
    fresh();
  }
  EXPECT_TRUE(tablet.rate().all_done);
}

TEST_F(Visits, TheOthersOfABlockAreSaidNotYetInOneAct) {
  pad(MarkReached{"102"});
  fresh();
  pad(OthersNotYet{});
  ASSERT_EQ(fresh(), 2U);
  EXPECT_EQ(last().entered, "not_yet");
  EXPECT_EQ(last().value, 0.0);
  EXPECT_EQ(tablet.mark("101"), Mark::kLater);
  EXPECT_EQ(tablet.mark("201"), Mark::kOpen) << "the other block was not looked at";
  pad(ShowBlock{1});
  EXPECT_EQ(visits().unsaid, 0U);
  pad(OthersNotYet{});
  EXPECT_EQ(fresh(), 0U);
  tablet.tap(TakeBack{});
  EXPECT_EQ(fresh(), 2U);
  EXPECT_EQ(visits().unsaid, 2U);
}

// Proves: nobody taps for the next block: the last tap of one goes on to it, at its first stake.
TEST_F(Visits, ABlockSaidWholeGoesOnToTheNext) {
  pad(MarkReached{"101"});
  pad(MarkReached{"102"});
  pad(MarkReached{"103"});
  EXPECT_EQ(visits().block, 1) << "one tapped by mistake is tapped again";
  pad(MarkReached{"103"});
  tablet.agrees = false;
  pad(OthersNotYet{});
  EXPECT_EQ(visits().block, 2);
  EXPECT_EQ(tablet.rate().plot, plan().plots[3].number);
  EXPECT_TRUE(stake_in_the_way(tablet.model)) << "at a block's start the stake is named";
  tablet.tap(NameStake{plan().plots[3].number});
  pad(OthersNotYet{});
  EXPECT_EQ(visits().block, 2) << "there is no other block left";
  tablet.settle();
  tablet.tap(TakeBack{});
  tablet.tap(TakeBack{});
  EXPECT_EQ(visits().block, 1) << "where it was taken back";
  EXPECT_EQ(visits().unsaid, 1U);
}

// Proves: a block left out on the way comes again after the last one.
TEST_F(Visits, ABlockLeftOutComesAfterTheLast) {
  pad(ShowBlock{2});
  pad(OthersNotYet{});
  EXPECT_EQ(visits().block, 1);
}

// Proves: dates are tapped from in front of the block, and nobody is told that they walked too
// fast.
TEST_F(Visits, TappedFromInFrontOfTheBlockIsNoFastWalk) {
  KnownTrial& trial = tablet.model.trials.back();
  trial.plan = wide_plan();
  trial.plan.codes.trial = "P2";
  trial.plan.plot_width = {"20", "ft"};
  trial.plan.occasions = {{"heading", Job::kRate, 2026, 0, {"heading"}, std::nullopt}};
  tablet.open(Plan(trial.plan), "heading");
  fresh();
  for (const int block : {1, 2}) {
    pad(ShowBlock{block});
    for (int n = 1; n <= 8; ++n) {
      pad(MarkReached{std::to_string(100 * block + 1 + (5 * n) % 8)});
      tablet.settle();
    }
  }
  ASSERT_EQ(fresh(), 16U);
  const auto looks = closing_looks(tablet.model, *book_of(tablet.model.screen));
  EXPECT_TRUE(looks.empty()) << looks.front().rule;
}

TEST_F(Visits, OneSaidTooEarlyCanBeMarkedTheSameDay) {
  pad(OthersNotYet{});
  fresh();
  pad(MarkReached{"101"});
  ASSERT_EQ(fresh(), 1U);
  EXPECT_EQ(last().kind, kind::kCorrection);
  EXPECT_EQ(last().entered, "reached");
  pad(MarkReached{"101"});
  ASSERT_EQ(fresh(), 1U);
  EXPECT_EQ(last().entered, "not_yet") << "back to what was said first";
}

TEST_F(Visits, TheNextVisitIsASlotOfItsOwn) {
  pad(MarkReached{"102"});
  pad(OthersNotYet{});
  fresh();
  come_back();
  EXPECT_EQ(visits().block, 2) << "where nobody looked yet";
  pad(ShowBlock{1});
  EXPECT_TRUE(plot("102").reached);
  EXPECT_FALSE(plot("102").today);
  EXPECT_FALSE(plot("101").reached);
  EXPECT_EQ(visits().unsaid, 2U);
  fresh();
  pad(MarkReached{"101"});
  ASSERT_EQ(fresh(), 1U);
  EXPECT_EQ(last().kind, kind::kReading);
  // What was reached before stays so.
  pad(MarkReached{"102"});
  EXPECT_EQ(fresh(), 0U);
  const auto progress = progress_of(
      tablet.model.trials.back(), plan().occasions.back(), tablet.model.setup.definitions,
      tablet.claims(plan().occasion(plan().occasions.back())), tablet.model.now.local_date);
  EXPECT_EQ(progress.done, 2);
  EXPECT_EQ(progress.later, 1) << "103 was said not yet";
}

TEST_F(Visits, AnotherBlockIsLookedAtByItsKeyOrItsStake) {
  pad(ShowBlock{2});
  EXPECT_EQ(visits().block, 2);
  pad(ShowBlock{7});
  EXPECT_EQ(visits().block, 2);
  pad(MarkReached{"201"});
  EXPECT_EQ(visits().block, 2);
  tablet.tap(GoToPlot{"102"});
  EXPECT_EQ(visits().block, 1);
}

TEST_F(Visits, ReviewShowsTheDay) {
  pad(OthersNotYet{});
  fresh();
  come_back();
  pad(MarkReached{"101"});
  tablet.settle();
  look_back(plan().occasions.back());
  EXPECT_EQ(tablet.on_map("101").shown, "05-05");
  EXPECT_EQ(tablet.on_map("102").shown, "");
  EXPECT_EQ(tablet.on_map("102").mark, Mark::kLater);
  EXPECT_EQ(tablet.map().legend.front().text, "05-05");
  tablet.tap(ShowHistory{"101"});
  tablet.settle();
  EXPECT_EQ(tablet.history().rows.front().shown_word, "scale.heading.reached");
}

TEST_F(Visits, ThePadStaysOnAPlotThatIsDone) {
  pad(MarkReached{"101"});
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  EXPECT_EQ(tablet.rate().focus, 0U);
  EXPECT_TRUE(plot("101").reached);
  for (const char* number : {"102", "103", "201", "202", "203"}) {
    pad(MarkReached{number});
    tablet.settle();
  }
  EXPECT_FALSE(tablet.rate().focus) << "all plots reached it";
  EXPECT_TRUE(tablet.rate().all_done);
}

TEST_F(Visits, AValueByAnotherWayIsNotTaken) {
  fresh();
  tablet.choose("heading", "reached");
  tablet.type("reached");
  EXPECT_EQ(fresh(), 0U);
}

}  // namespace
}  // namespace ligule::flow
