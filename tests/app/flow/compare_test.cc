// One rating against another, on the map.
#include "app/flow/odd.h"
#include "tests/app/flow/slide_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::SizeIs;

class Compare : public SlideFixture {
 protected:
  // Stand of all six plots in the first rating, then in the later one; the map of the later one.
  void rate_both(const std::vector<std::string>& first, const std::vector<std::string>& later) {
    tablet.open(grass_plan(), "stand");
    for (std::size_t n = 0; n < first.size(); ++n) {
      tablet.tap(GoToPlot{plots[n]});
      tablet.choose("percent_stand", first[n]);
      tablet.settle();
    }
    rate(later);
    review("late");
    tablet.tap(ReviewBack{});  // from Slide
  }
  void against(std::string_view code) {
    tablet.tap(ReviewAgainst{occasion(code)});
    tablet.settle();
  }
  const std::vector<std::string> plots{"101", "102", "103", "201", "202", "203"};
};

TEST_F(Compare, ShowsWhatChangedAndMarksTheOddPlot) {
  rate_both({"50", "60", "70", "80", "40", "30"}, {"55", "65", "75", "85", "45", "95"});
  tablet.tap(ListAgainst{});
  const auto list = std::get<OccasionListView>(tablet.review().page);
  EXPECT_TRUE(list.against);
  ASSERT_THAT(list.rows, SizeIs(1));  // cuttings have no stand
  EXPECT_EQ(list.rows[0].code, "stand");
  against("stand");
  EXPECT_EQ(tablet.map().against, "stand");
  EXPECT_EQ(tablet.on_map("101").shown, "+5");
  EXPECT_EQ(tablet.on_map("203").shown, "+65");
  EXPECT_TRUE(tablet.on_map("203").odd);
  for (const char* plot : {"101", "102", "103", "201", "202"})
    EXPECT_FALSE(tablet.on_map(plot).odd);
  // No change is the middle of the colours, the furthest plot an end.
  EXPECT_DOUBLE_EQ(tablet.on_map("101").share.value(), 0.5 + 5.0 / 130);
  EXPECT_EQ(tablet.on_map("203").share, 1);
  ASSERT_THAT(tablet.map().legend, SizeIs(3));
  EXPECT_EQ(tablet.map().legend[0].text, "-65");
  EXPECT_EQ(tablet.map().legend[1].text, "0");
  EXPECT_EQ(tablet.map().legend[2].text, "+65");
  tablet.tap(ReviewAlone{});
  EXPECT_EQ(tablet.on_map("203").shown, "95");
  EXPECT_FALSE(tablet.on_map("203").odd);
}

// Proves: a plot that rose stands on the other side of the colours than one that fell, whatever
// most plots did, and as far off as it fell or rose.
TEST_F(Compare, ColoursSayWhichWayAPlotChanged) {
  rate_both({"50", "50", "50", "50", "50", "50"}, {"70", "70", "70", "50", "60", "30"});
  against("stand");
  EXPECT_EQ(tablet.on_map("101").share, 1);
  EXPECT_EQ(tablet.on_map("201").share, 0.5);
  EXPECT_EQ(tablet.on_map("202").share, 0.75);
  EXPECT_EQ(tablet.on_map("203").share, 0);
  ASSERT_THAT(tablet.map().legend, SizeIs(3));
  EXPECT_EQ(tablet.map().legend[0].text, "-20");
  EXPECT_EQ(tablet.map().legend[2].text, "+20");
}

TEST_F(Compare, PlotsWithoutBothValuesStayEmpty) {
  rate_both({"50", "60"}, {"50", "", "70"});
  against("stand");
  EXPECT_EQ(tablet.on_map("101").shown, "0");
  EXPECT_EQ(tablet.on_map("102").shown, "");
  EXPECT_EQ(tablet.on_map("103").shown, "");
  EXPECT_FALSE(tablet.on_map("103").share);
  ASSERT_THAT(tablet.map().legend, SizeIs(1));
}

TEST_F(Compare, WithoutAnotherRatingThereIsNothingToCompare) {
  rate_both({}, {"50"});
  tablet.open(grass_plan(), "stand");
  tablet.choose("seedling_vigor", "4");
  review("stand");
  tablet.tap(ReviewBack{});
  tablet.tap(ReviewMeasure{"seedling_vigor"});
  tablet.tap(ListAgainst{});
  EXPECT_EQ(tablet.notice(), "notice.nothing_to_compare");
  against("late");  // has no vigor
  EXPECT_EQ(tablet.map().against, "");
}

TEST_F(Compare, AnotherOccasionIsLookedAtAlone) {
  rate_both({"50"}, {"55"});
  against("stand");
  tablet.tap(ReviewOccasion{grass_plan().id(), occasion("stand")});
  tablet.settle();
  EXPECT_EQ(tablet.map().against, "");
  EXPECT_EQ(tablet.on_map("101").shown, "50");
}

}  // namespace
}  // namespace ligule::flow
