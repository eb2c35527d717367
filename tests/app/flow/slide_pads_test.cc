// Slide of what has several numbers or several parts on one plot.
#include "app/flow/slide.h"
#include "storage/trial/details.h"
#include "tests/app/flow/pads_fixture.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::SizeIs;

class SlidePads : public Pads {
 protected:
  void slide_one_on(const PlanOccasion& occasion, const std::string& plot) {
    look_back(occasion);
    tablet.tap(ShowSlide{});
    tablet.tap(ChooseSlidePlot{plot});
    tablet.tap(ChooseSlidePlot{plot});
    tablet.tap(SlideBy{1});
  }
  SlideView sliding() const { return std::get<SlideView>(tablet.review().page); }
  SlideRow row(const std::string& plot) const {
    const SlideView view = sliding();
    const auto at = std::ranges::find(view.rows, plot, &SlideRow::plot);
    return at == view.rows.end() ? SlideRow{} : *at;
  }
  void do_it() {
    tablet.tap(DoSlide{});
    fresh();
  }
};

// Proves: which cells held a plant is not lost on the way.
TEST_F(SlidePads, TheCellsOfAFrameGoWithIt) {
  open("grid");
  pad(TapCell{0});
  for (int n = 0; n < 4; ++n) pad(NextPlacement{});
  fresh();
  const auto cells = parse_details(last().details);
  ASSERT_TRUE(cells);
  const RecordId was = last().id;
  slide_one_on(plan().occasions[2], "101");
  do_it();
  EXPECT_EQ(last().entered, "1 0 0 0");
  const auto moved = parse_details(last().details);
  ASSERT_TRUE(moved);
  EXPECT_EQ(moved->at("cells"), cells->at("cells"));
  EXPECT_EQ(moved->at("moved_from"), was.text());
}

TEST_F(SlidePads, HeightsGoTogether) {
  open("height");
  for (const char* height : {"20", "22", "24"}) tablet.choose("height", height);
  fresh();
  slide_one_on(plan().occasions[0], "101");
  do_it();
  tablet.tap(ReviewBack{});
  EXPECT_EQ(tablet.on_map("101").shown, "");
  EXPECT_EQ(tablet.on_map("102").shown, "22.0");
}

TEST_F(SlidePads, SharesAreShownAsOnTheMap) {
  open("cover");
  pad(SetShare{"60"});
  pad(SetShare{"25"});
  pad(KeepGathered{});
  fresh();
  slide_one_on(plan().occasions[1], "101");
  EXPECT_EQ(row("101").now.front().shown, "60 25 15");
  EXPECT_EQ(row("102").then.front().shown, "60 25 15");
}

// Proves: visits of two plots never mix, for the date would be neither plot's.
TEST_F(SlidePads, VisitsOfThePlotItComesToGoWhole) {
  open("heading");
  pad(MarkReached{"102"});
  fresh();
  tablet.next_day();
  open("heading");
  pad(MarkReached{"101"});
  fresh();
  slide_one_on(plan().occasions[4], "101");
  const SlideView view = sliding();
  ASSERT_THAT(view.lost, SizeIs(1));
  EXPECT_EQ(view.lost[0].plot, "102");
  EXPECT_EQ(row("102").now.front().shown, "05-04");
  EXPECT_THAT(row("102").then, ElementsAre(testing::Field(&SlideCell::shown, "05-05")));
  do_it();
  tablet.tap(ReviewBack{});
  EXPECT_EQ(tablet.on_map("102").shown, "05-05");
  tablet.tap(TakeBack{});
  fresh();
  EXPECT_EQ(tablet.on_map("102").shown, "05-04");
  EXPECT_EQ(tablet.on_map("101").shown, "05-05");
}

TEST_F(SlidePads, AVisitThatFoundItNotReachedSaysSo) {
  open("heading");
  pad(OthersNotYet{});
  fresh();
  slide_one_on(plan().occasions[4], "101");
  EXPECT_EQ(row("101").now.front().shown, "05-04");
  EXPECT_EQ(row("101").now.front().word, "scale.heading.not_yet");
  EXPECT_THAT(row("203").now, IsEmpty());
}

}  // namespace
}  // namespace ligule::flow
