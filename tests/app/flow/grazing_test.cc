// Whether animals are in a trial, from what was noted of it.
#include "app/flow/grazing.h"

#include <gtest/gtest.h>

#include "app/flow/no_entry.h"
#include "storage/trial/details.h"
#include "tests/app/flow/trials_fixture.h"

namespace ligule::flow {
namespace {

using date::day;
using date::month;
using date::year;

CalendarDate may(unsigned of_month) {
  return year{2026} / month{5} / day{of_month};
}

class AnimalsTest : public ::testing::Test {
 protected:
  void note(const char* what, unsigned on, const std::string& block = "") {
    Record event;
    event.id.uuid.bytes[0] = ++ids_;
    event.kind = kind::kEvent;
    event.trial = trial_;
    event.entered = what;
    event.at.local_date = may(20);
    Details details{{"on", format_date(may(on))}};
    if (!block.empty()) details["block"] = block;
    event.details = details_text(details);
    grazing_kept(today_, event);
  }
  [[nodiscard]] bool in(unsigned on) const { return animals_in(today_, trial_, may(on)); }

  TrialId trial_ = grass_plan().id();
  Today today_;
  std::uint8_t ids_ = 0;
};

TEST_F(AnimalsTest, TheyAreInFromTheDayTheyWentInUntilTheyCameOut) {
  EXPECT_FALSE(in(4));
  note("grazing_in", 4);
  EXPECT_FALSE(in(3));
  EXPECT_TRUE(in(4));
  EXPECT_TRUE(in(9));
  EXPECT_FALSE(animals_in(today_, annual_plan().id(), may(9)));
  note("grazing_out", 8);
  EXPECT_TRUE(in(7)) << "it is still to come";
  EXPECT_FALSE(in(8));
  note("grazing_in", 8);
  EXPECT_TRUE(in(8)) << "again, the same day";
}

TEST_F(AnimalsTest, ABlockIsLeftByItselfOrWithTheWholeTrial) {
  note("grazing_in", 4, "1");
  note("grazing_in", 4, "2");
  note("grazing_out", 5, "1");
  EXPECT_TRUE(in(5)) << "block 2";
  note("grazing_out", 6);
  EXPECT_FALSE(in(6));
}

TEST_F(AnimalsTest, OutOfABlockIsNotOutOfTheTrial) {
  note("grazing_in", 4);
  note("grazing_out", 5, "1");
  EXPECT_TRUE(in(5));
}

TEST_F(AnimalsTest, OtherEventsSayNothing) {
  note("clipped", 4);
  EXPECT_TRUE(today_.grazing.empty());
}

class GrazedTrial : public OnTrials {
 protected:
  void keep(const char* what) {
    tablet.tap(NewEvent{});
    tablet.tap(DescribeEvent{.what = what});
    tablet.tap(KeepEvent{});
    tablet.settle();
  }
  [[nodiscard]] bool in() const {
    return animals_in(tablet.model.today, grass_plan().id(), tablet.model.now.local_date);
  }
};

TEST_F(GrazedTrial, AnEventIsKnownAtOnceAndGoneWhenItIsTakenBack) {
  open();
  keep("grazing_in");
  EXPECT_TRUE(in());
  tablet.tap(ShowEventBack{last().id});
  tablet.tap(TakeEventBack{"mistap"});
  tablet.settle();
  EXPECT_FALSE(in());
}

}  // namespace
}  // namespace ligule::flow
