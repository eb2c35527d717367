// A block is cut as one: stopping inside it asks, and so does another machine.
#include "storage/trial/details.h"
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

class SplitBlockTest : public HarvestTest {
 protected:
  SplitBlockTest() {
    tablet.stops = false;
    start();
    weigh("31.5", "1");
    tablet.settle();
  }
  bool on_today() const { return std::holds_alternative<TodayView>(view_of(tablet.model)); }
};

TEST_F(SplitBlockTest, StoppingInsideABlockAsks) {
  tablet.tap(ShowToday{});
  ASSERT_TRUE(tablet.above().splitting);
  EXPECT_EQ(tablet.above().splitting->block, 1);
  EXPECT_EQ(tablet.above().splitting->open, 2U);
  EXPECT_EQ(tablet.above().splitting->machine, "");
  tablet.tap(GoToPlot{"103"});
  EXPECT_EQ(tablet.weighing().plot, "102") << "it is answered first";
  tablet.tap(AnswerSplit{SplitAnswer::kFinish});
  EXPECT_FALSE(on_today());
  EXPECT_FALSE(tablet.above().splitting);
}

TEST_F(SplitBlockTest, SaidOnceItIsNotAskedAgainThatDay) {
  tablet.tap(ShowToday{});
  tablet.tap(AnswerSplit{SplitAnswer::kStop});
  EXPECT_TRUE(on_today());
  tablet.open(grass_plan(), "cut1");
  tablet.tap(ShowToday{});
  EXPECT_TRUE(on_today());
}

TEST_F(SplitBlockTest, AWholeBlockIsLeftWithoutAQuestion) {
  weigh("31.7", "2");
  weigh("32.5", "3");
  tablet.settle();
  EXPECT_EQ(tablet.weighing().block, 2);
  tablet.tap(ShowToday{});
  EXPECT_TRUE(on_today());
}

TEST_F(SplitBlockTest, AnotherMachineBeginsARunOfItsOwn) {
  tablet.fill(Field::kGross, "30");
  tablet.tap(ShowToday{});
  tablet.tap(AnswerSplit{SplitAnswer::kMachine});
  tablet.type("Mower 2");
  tablet.tap(StartRun{});
  tablet.settle();
  EXPECT_FALSE(tablet.above().splitting) << "asked just now";
  EXPECT_EQ(tablet.ledger.back().kind, kind::kHarvestRun);
  EXPECT_EQ(tablet.ledger.back().details, details_text({{"machine", "Mower 2"}}));
  EXPECT_EQ(tablet.weighing().machine, "Mower 2");
  EXPECT_EQ(tablet.text(Field::kGross), "30") << "what was typed waits";
}

TEST_F(SplitBlockTest, AnotherMachineOnAnotherDayAsks) {
  tablet.tap(ShowToday{});
  tablet.tap(AnswerSplit{SplitAnswer::kStop});
  tablet.next_day();
  tablet.open(grass_plan(), "cut1");
  tablet.fill(Field::kMachine, "Mower 2");
  tablet.tap(StartRun{});
  ASSERT_TRUE(tablet.above().splitting);
  EXPECT_EQ(tablet.above().splitting->machine, "Mower 1");
  tablet.tap(AnswerSplit{SplitAnswer::kFinish});
  EXPECT_TRUE(head().fields[0].focused) << "the machine is named again";
  tablet.tap(StartRun{});
  tablet.tap(AnswerSplit{SplitAnswer::kMachine});
  tablet.settle();
  EXPECT_EQ(tablet.weighing().machine, "Mower 2");
}

TEST_F(SplitBlockTest, TheSameMachineOnAnotherDayGoesOn) {
  tablet.tap(ShowToday{});
  tablet.tap(AnswerSplit{SplitAnswer::kStop});
  tablet.next_day();
  tablet.open(grass_plan(), "cut1");
  tablet.tap(StartRun{});
  EXPECT_FALSE(tablet.above().splitting);
  EXPECT_EQ(tablet.weighing().machine, "Mower 1");
}

}  // namespace
}  // namespace ligule::flow
