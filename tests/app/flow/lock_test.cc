#include "app/flow/lock.h"

#include "tests/app/flow/rate_fixture.h"

namespace ligule::flow {
namespace {

class Locked : public Rate {
 protected:
  Locked() { tablet.tap(LockGlass{}); }
  bool locked() { return tablet.above().lock.has_value(); }
};

TEST_F(Locked, TheScreenStaysAndTakesNothing) {
  for (const Intent& tap :
       {Intent{ChooseValue{"percent_stand", "60"}}, Intent{GoToPlot{"203"}}, Intent{ShowToday{}},
        Intent{KeyText{"4"}}, Intent{PutOff{}}, Intent{HandOver{}}, Intent{LockGlass{}}}) {
    tablet.tap(tap);
  }
  tablet.settle();
  EXPECT_TRUE(locked());
  EXPECT_EQ(tablet.rate().plot, "101");
  EXPECT_EQ(tablet.ledger.size(), 1U) << "the person only";
}

TEST_F(Locked, TwoCornersInTheirOrderUnlock) {
  tablet.tap(UnlockCorner{true});
  EXPECT_TRUE(locked()) << "the second alone";
  tablet.tap(UnlockCorner{});
  EXPECT_TRUE(tablet.above().lock->first);
  tablet.tap(UnlockCorner{true});
  EXPECT_FALSE(locked());
  tablet.choose("percent_stand", "60");
  EXPECT_EQ(tablet.rate().measures.front().shown, "60");
}

// A step of tap() is 2 s.
TEST_F(Locked, TheFirstCornerCountsForSixSeconds) {
  tablet.tap(UnlockCorner{});
  tablet.rest(std::chrono::seconds(5));
  tablet.tap(UnlockCorner{true});
  EXPECT_TRUE(locked()) << "7 s";
  tablet.tap(UnlockCorner{});
  tablet.rest(std::chrono::seconds(4));
  tablet.tap(UnlockCorner{true});
  EXPECT_FALSE(locked()) << "6 s";
}

TEST_F(Locked, AClockSetBackGivesNoEndlessTime) {
  tablet.tap(UnlockCorner{});
  tablet.rest(-std::chrono::seconds(100));
  tablet.tap(UnlockCorner{true});
  EXPECT_TRUE(locked());
}

TEST_F(Locked, WhatWaitsForThePersonWaitsBehindIt) {
  tablet.tap(UnlockCorner{});
  tablet.tap(UnlockCorner{true});
  tablet.break_disk(true);
  tablet.choose("percent_stand", "60");
  tablet.tap(LockGlass{});
  tablet.settle();
  EXPECT_FALSE(tablet.above().unsaved) << "no drop lets a value go";
  EXPECT_TRUE(tablet.above().lock->not_saved) << "and nobody is told that all is kept";
  EXPECT_EQ(tablet.rate().head.not_saved, 1U);
  tablet.tap(DropUnsaved{});
  tablet.tap(UnlockCorner{});
  tablet.tap(UnlockCorner{true});
  EXPECT_TRUE(tablet.above().unsaved);
}

TEST_F(Locked, DropsOnTheGlassAreNobodysTouch) {
  for (int minute = 0; minute < 40; ++minute) {
    tablet.rest(std::chrono::minutes(1));
    tablet.tap(UnlockCorner{true});
    tablet.tap(Tick{});
  }
  tablet.tap(UnlockCorner{});
  tablet.tap(UnlockCorner{true});
  EXPECT_TRUE(std::get<SignInView>(view_of(tablet.model)).after_rest);
}

TEST(Lock, WithNobodySignedInThereIsNothingToLock) {
  Tablet tablet;
  tablet.restart();
  tablet.tap(LockGlass{});
  EXPECT_FALSE(tablet.above().lock);
}

}  // namespace
}  // namespace ligule::flow
