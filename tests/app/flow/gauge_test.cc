// The gauge: after a weight is captured, before its bag is emptied.
#include "tests/app/flow/harvest_fixture.h"

namespace ligule::flow {
namespace {

class GaugeTest : public ScaleHarvestTest {
 protected:
  GaugeTest() : ScaleHarvestTest(wide_plan()) {}
  void take_all(const std::vector<std::string>& weights) {
    for (const std::string& weight : weights) {
      take(weight);
      bag(std::to_string(++bags_));
    }
  }

 private:
  int bags_ = 0;
};

// Proves: nothing comparative shows before a weight is captured.
TEST_F(GaugeTest, NothingShowsBeforeTheWeightIsKept) {
  take("30.0");
  bag("1");
  on_the_scale("31.0");
  EXPECT_FALSE(tablet.weighing().gauge);
  tablet.fill(Field::kGross, "31");
  EXPECT_FALSE(tablet.weighing().gauge) << "typed is not kept";
}

TEST_F(GaugeTest, InTheFirstBlockThereIsNothingToCompare) {
  take("30.0");
  ASSERT_TRUE(tablet.weighing().gauge);
  EXPECT_FALSE(tablet.weighing().gauge->any);
}

// Block 1: A 30, B 34, C 26 lb and D to H; block 2 in the order D to H, C, A, B and 2 lb heavier.
TEST_F(GaugeTest, TheOthersSayWhatThePlotShouldGive) {
  take_all({"30.0", "34.0", "26.0"});
  take_all(rest_of_block_one);
  take(start_of_block_two.front());
  EXPECT_FALSE(tablet.weighing().gauge->any) << "the first of its block";
  bag("104");
  take_all({start_of_block_two.begin() + 1, start_of_block_two.end()});
  take_all({"28.0"});
  take("32.0");
  const auto gauge = tablet.weighing().gauge;
  ASSERT_TRUE(gauge && gauge->any);
  EXPECT_TRUE(gauge->inside);
  EXPECT_EQ(gauge->unit, "lb");
  EXPECT_EQ(gauge->lowest, "28.8");
  EXPECT_EQ(gauge->highest, "35.2");
  EXPECT_NEAR(gauge->place, 0.5, 1e-6);
  bag("102");
  take("3.6");
  EXPECT_EQ(tablet.question(), "check.weight_unexpected");
  EXPECT_FALSE(tablet.weighing().gauge) << "nothing comparative before it is kept";
  tablet.answer("measured_so");
  tablet.settle();
  EXPECT_FALSE(tablet.weighing().gauge->inside) << "the point in the wrong place";
  EXPECT_EQ(tablet.weighing().gauge->place, 0);
}

// Proves: with an earlier cutting of the season the gauge tells from the fifth plot on. Each plot
// gives 0.8 of what it gave: 40 lb after 50.
TEST_F(GaugeTest, TheSeasonsEarlierCuttingsSayItSooner) {
  auto& harvest = std::get<Harvest>(tablet.model.screen);
  const std::map<std::string, double> first{{"101", 50}, {"102", 60}, {"103", 40}, {"104", 55},
                                            {"105", 45}, {"106", 65}, {"107", 50}, {"108", 35},
                                            {"201", 56}, {"202", 46}, {"203", 66}, {"204", 51},
                                            {"205", 36}, {"206", 41}, {"207", 51}, {"208", 61}};
  std::map<std::string, double> kilograms;
  for (const auto& [plot, pounds] : first) kilograms[plot] = 0.45359237 * pounds;
  harvest.book.past.earlier = {kilograms};
  take_all({"40.2", "47.9", "32.1", "44.0"});
  take("36.1");
  ASSERT_TRUE(tablet.weighing().gauge && tablet.weighing().gauge->any) << "in the first block";
  EXPECT_TRUE(tablet.weighing().gauge->inside);
  bag("5");
  take("26.0");
  tablet.answer("measured_so");
  tablet.settle();
  EXPECT_FALSE(tablet.weighing().gauge->inside) << "106 should give about 52";
}

TEST_F(GaugeTest, WhatIsNoWeightHasNoGauge) {
  tablet.tap(ShowPage{PlotPage::kNoWeight});
  tablet.tap(SayNoWeight{"winterkill"});
  tablet.settle();
  tablet.tap(GoToPlot{"101"});
  EXPECT_FALSE(tablet.weighing().gauge);
}

// Typed weights, and loads where no sample bag is asked for, lead to the next plot at once.
class GaugeOnTheWay : public HarvestTest {
 protected:
  GaugeOnTheWay() : HarvestTest(wide_plan()) { start(); }
  void type_all(const std::vector<std::string>& weights) {
    for (const std::string& weight : weights) type_plot(weight);
  }
  // Up to entry A of block 2.
  void type_most() {
    type_all({"30", "34", "26"});
    type_all(rest_of_block_one);
    type_all(start_of_block_two);
    type_all({"28"});
  }
  [[nodiscard]] std::optional<NoticeView> above_notice() const { return tablet.above().notice; }
  void type_plot(std::string_view gross) {
    weigh(gross);
    stand_by();
  }
};

TEST_F(GaugeOnTheWay, TheNextPlotSaysWhatTheLastOneShouldGive) {
  type_plot("30");
  ASSERT_TRUE(tablet.weighing().gauge);
  EXPECT_EQ(tablet.weighing().gauge->plot, "101");
  EXPECT_FALSE(tablet.weighing().gauge->any) << "the first block";
  type_all({"34", "26"});
  type_all(rest_of_block_one);
  type_all(start_of_block_two);
  type_all({"28", "32"});
  const auto gauge = tablet.weighing().gauge;
  ASSERT_TRUE(gauge && gauge->any);
  EXPECT_EQ(gauge->plot, "207");
  EXPECT_TRUE(gauge->inside);
  EXPECT_EQ(tablet.notice(), "");
  tablet.fill(Field::kGross, "3");
  EXPECT_FALSE(tablet.weighing().gauge) << "nothing comparative beside a weight that is begun";
}

TEST_F(GaugeOnTheWay, AWeightOutsideAsksBeforeItIsKept) {
  type_most();
  tablet.cues.clear();
  weigh("3.2");
  EXPECT_EQ(tablet.question(), "check.weight_unexpected");
  EXPECT_THAT(tablet.cues, ::testing::Contains(Cue{CueKind::kQuestioned}));
  tablet.answer("measured_so");
  tablet.settle();
  EXPECT_THAT(last_of(measure::kGrossWeight).answers,
              ::testing::ElementsAre(Answer{"weight_unexpected", "measured_so"}));
  EXPECT_FALSE(tablet.weighing().gauge->inside);
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_FALSE(tablet.weighing().gauge) << "it was taken back";
}

TEST_F(GaugeTest, ALoadHidesWhatTheLastPlotShouldGive) {
  for (const char* const gross : {"30.0", "34.0"}) {
    weigh(gross);
    tablet.settle();
  }
  LoadSeen empty;
  empty.state = LoadState::kEmpty;
  on_the_scale(empty);
  ASSERT_TRUE(tablet.weighing().gauge);
  EXPECT_EQ(tablet.weighing().gauge->plot, "102");
  on_the_scale("31.0");
  EXPECT_FALSE(tablet.weighing().gauge);
  // With a bag to come the gauge stood on its own plot; the next one says nothing of an older one.
  tablet.tap(TakeWeight{});
  tablet.settle();
  bag("3");
  on_the_scale(empty);
  EXPECT_FALSE(tablet.weighing().gauge);
}

// Proves: the range stands beside the weight that is read, so what the plot hangs in is in it.
TEST_F(GaugeOnTheWay, TheRangeIsOfTheGrossWeight) {
  tablet.fill(Field::kTare, "10");
  type_all({"40", "44", "36", "40.5", "43.5", "39.2", "37.1", "45.9"});
  type_all({"42.5", "45.5", "41.2", "39.1", "47.9", "38", "42"});
  const auto gauge = tablet.weighing().gauge;
  ASSERT_TRUE(gauge && gauge->any);
  EXPECT_EQ(gauge->lowest, "38.8");
  EXPECT_EQ(gauge->highest, "45.2");
}

// Proves: while another bag is to come nothing is asked; then of all bags together.
TEST_F(GaugeOnTheWay, OfSeveralBagsTheirSumIsHeldAgainstTheOthers) {
  type_most();
  tablet.fill(Field::kGross, "16");
  tablet.tap(MoreBag{});
  tablet.settle();
  EXPECT_EQ(tablet.question(), "") << "half a plot";
  type_plot("16");
  EXPECT_EQ(tablet.notice(), "");
  EXPECT_TRUE(tablet.weighing().gauge->inside) << "32 lb";
  tablet.tap(TakeBack{});
  tablet.settle();
  weigh("40");
  EXPECT_EQ(tablet.question(), "check.weight_unexpected") << "56 lb";
}

}  // namespace
}  // namespace ligule::flow
