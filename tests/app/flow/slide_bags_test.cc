// Sliding a cutting: the sample bags go with their plots.
#include <random>
#include <set>
#include <utility>

#include "tests/app/flow/slide_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::SizeIs;

class SlideBags : public SlideFixture {
 protected:
  SlideBags() {
    tablet.open(grass_plan(), "cut1");
    tablet.type("Mower 1");
    tablet.tap(StartRun{});
    tablet.settle();
  }
  void weigh(const std::string& plot, const std::string& gross, const std::string& bag = "",
             const std::string& sample = "") {
    tablet.tap(GoToPlot{plot});
    tablet.fill(Field::kGross, gross);
    tablet.fill(Field::kTare, "2");
    if (!bag.empty()) tablet.fill(Field::kBag, bag);
    if (!sample.empty()) tablet.fill(Field::kSampleFresh, sample);
    tablet.tap(KeepPlot{});
    if (!tablet.question().empty()) tablet.answer("not_known");
    tablet.settle();
  }
  void dry(const std::string& bag, const std::string& weight) {
    tablet.tap(ShowDryWeights{});
    tablet.settle();
    tablet.fill(Field::kDryBag, bag);
    tablet.tap(KeyDone{});
    tablet.fill(Field::kDryWeight, weight);
    tablet.tap(KeepDry{});
    tablet.settle();
  }
};

// Proves: a bag that went into the oven under the wrong plot takes all its weights along.
TEST_F(SlideBags, TheBagGoesWithItsPlot) {
  weigh("101", "30", "11", "500");
  weigh("102", "40", "12", "600");
  dry("11", "120");
  const Standing was = standing("cut1");
  review("cut1");
  slide("101", "102", 1);
  const Standing now = standing("cut1");
  EXPECT_EQ((now.at({"102", "bag_number", 1})), "value 11");
  EXPECT_EQ((now.at({"102", "sample_fresh", 1})), "value 500g");
  EXPECT_EQ((now.at({"102", "sample_dry", 1})), "value 120g");
  EXPECT_EQ((now.at({"102", "gross_weight", 1})), "value 30lb");
  EXPECT_EQ((now.at({"103", "bag_number", 1})), "value 12");
  EXPECT_EQ((now.at({"103", "sample_fresh", 1})), "value 600g");
  EXPECT_FALSE(now.contains({"101", "bag_number", 1}));
  EXPECT_EQ(now.size(), was.size());
  // What is still in the oven is so under its new plot.
  const auto open = tablet.open_bags();
  ASSERT_THAT(open, SizeIs(1));
  EXPECT_EQ(open[0].number, "12");
  EXPECT_EQ(open[0].plot, "103");
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(standing("cut1"), was);
}

TEST_F(SlideBags, ABagThatAnotherOneReplacesIsLostWhole) {
  weigh("101", "30", "11", "500");
  weigh("102", "40", "12", "600");
  dry("12", "150");
  review("cut1");
  ask("101", "101", 1);
  std::set<std::string> lost;
  const SlideView shown = view();
  for (const SlideCell& cell : shown.lost.at(0).cells) lost.insert(cell.measure);
  EXPECT_THAT(
      lost, ElementsAre("bag_number", "gross_weight", "sample_dry", "sample_fresh", "tare_weight"));
  tablet.tap(DoSlide{});
  tablet.settle();
  const Standing now = standing("cut1");
  EXPECT_EQ((now.at({"102", "bag_number", 1})), "value 11");
  EXPECT_FALSE(now.contains({"102", "sample_dry", 1}));  // bag 11 is still in the oven
}

TEST_F(SlideBags, AWeightOnHoldTravelsOnHold) {
  weigh("101", "1");  // less than the tare
  const Standing was = standing("cut1");
  ASSERT_EQ((was.at({"101", "gross_weight", 1})), "on hold 1lb");
  review("cut1");
  slide("101", "101", 1);
  EXPECT_EQ((standing("cut1").at({"102", "gross_weight", 1})), "on hold 1lb");
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(standing("cut1"), was);
}

// Over many invented fields: nothing appears, nothing is lost but what was shown, one tap takes all
// of it back, and there and back is where it was.
TEST_F(SlideBags, WhateverStandsNothingIsLostButWhatWasShown) {
  std::mt19937 random(20260504);
  const auto pick = [&](int n) { return static_cast<int>(random() % static_cast<unsigned>(n)); };
  const std::vector<std::string> plots{"101", "102", "103", "201", "202", "203"};
  for (std::size_t n = 0; n < plots.size(); ++n) {
    const int what = pick(6) - 2;  // half of the plots hold nothing
    if (what <= 0) continue;
    const std::string bag = what > 1 ? std::to_string(20 + n) : "";
    weigh(plots[n], std::to_string(20 + n), bag, what > 2 ? std::to_string(400 + n) : "");
    if (what > 2 && pick(2) == 0) {
      dry(bag, std::to_string(100 + n));
      tablet.open(grass_plan(), "cut1");
    }
  }
  review("cut1");
  int back_and_forth = 0;
  for (int round = 0; round < 60; ++round) {
    const Standing was = standing("cut1");
    int first = pick(6);
    int last = pick(6);
    if (last < first) std::swap(first, last);
    const int by = pick(2) == 0 ? 1 + pick(3) : -1 - pick(3);
    ask(plots[static_cast<std::size_t>(first)], plots[static_cast<std::size_t>(last)], by);
    if (view().problem) {
      EXPECT_EQ(view().problem->key, "slide.nothing");
      continue;
    }
    std::size_t lost = 0;
    const SlideView shown = view();
    for (const SlideLost& each : shown.lost) lost += each.cells.size();
    tablet.tap(DoSlide{});
    tablet.settle();
    const Standing now = standing("cut1");
    EXPECT_EQ(now.size() + lost, was.size()) << round;
    // There and back is where it was if the plots it came to were empty and the path did not end.
    bool clear = first + by >= 0 && last + by < 6;
    for (int place = first + by; clear && place <= last + by; ++place) {
      const auto holds = [&](const auto& each) {
        return std::get<0>(each.first) == plots[static_cast<std::size_t>(place)];
      };
      clear = (place >= first && place <= last) || std::ranges::none_of(was, holds);
    }
    if (clear) {
      ++back_and_forth;
      const auto moved = [by](int place) {
        const int there = place + by;
        return static_cast<std::size_t>(there);
      };
      ask(plots[moved(first)], plots[moved(last)], -by);
      tablet.tap(DoSlide{});
      tablet.settle();
      EXPECT_EQ(standing("cut1"), was) << round;
      tablet.tap(TakeBack{});
      tablet.settle();
      EXPECT_EQ(standing("cut1"), now) << round;
    }
    tablet.tap(TakeBack{});
    tablet.settle();
    EXPECT_EQ(standing("cut1"), was) << round;
  }
  EXPECT_GT(back_and_forth, 3);
}

}  // namespace
}  // namespace ligule::flow
