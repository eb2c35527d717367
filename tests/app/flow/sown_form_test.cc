// What a plot really holds, said in one tap from its card.
#include "app/flow/sown_form.h"

#include "app/flow/book.h"
#include "tests/app/flow/harvest_fixture.h"
#include "tests/app/flow/tablet.h"
#include "tests/app/flow/trials_fixture.h"

namespace ligule::flow {
namespace {

using testing::ElementsAre;
using testing::SizeIs;

class OnCard : public ::testing::Test {
 protected:
  OnCard() { tablet.open(grass_plan(), "stand"); }

  SownFormView form() {
    const View view = view_of(tablet.model);
    const auto* const trials = std::get_if<TrialsView>(&view);
    const auto* const found =
        trials == nullptr ? nullptr : std::get_if<SownFormView>(&trials->page);
    if (found == nullptr) ADD_FAILURE() << "another page";
    return found == nullptr ? SownFormView{} : *found;
  }
  // The newest statements, as many as one act made.
  std::vector<AsSown> stated(std::size_t count) {
    std::vector<AsSown> said;
    said.reserve(count);
    for (std::size_t n = tablet.ledger.size() - count; n < tablet.ledger.size(); ++n)
      said.push_back(read_as_sown(tablet.ledger[n]).value());
    return said;
  }
  static PlotId plot(std::string_view number) { return plot_id(grass_plan().id(), number); }
  static EntryId entry(std::string_view code) { return entry_id(grass_plan().id(), code); }
  static std::string planned(std::string_view number) {
    return grass_plan().find_plot(number)->entry;
  }
  void exchange(const std::string& with) {
    tablet.tap(ShowStands{});
    tablet.tap(StateExchanged{.with = with});
    tablet.tap(KeepSown{"packet_mixed"});
    tablet.settle();
  }
  // And stands at plot 101 again.
  void abandon(const std::string& number) {
    tablet.tap(GoToPlot{number});
    tablet.tap(ShowStands{});
    tablet.tap(StateSown{.status = AsSownStatus::kAbandoned});
    tablet.tap(KeepSown{"washed_out"});
    tablet.settle();
    tablet.tap(GoToPlot{"101"});
  }

  Tablet tablet;
};

TEST_F(OnCard, IsOneTapAndBackLeadsToTheSamePlot) {
  tablet.tap(GoToPlot{"103"});
  EXPECT_TRUE(tablet.rate().stands.can_state);
  EXPECT_FALSE(tablet.rate().stands.stated);
  tablet.tap(ShowStands{});
  EXPECT_EQ(form().plot, "103");
  tablet.tap(TrialsBack{});
  EXPECT_EQ(tablet.rate().plot, "103");
  EXPECT_EQ(tablet.ledger.size(), 1U) << "the person alone";
}

// Packets of two plots were swapped at sowing: one act says it of both, without any name, and it
// counts from the first day on, since they never held anything else.
TEST_F(OnCard, SwappedPacketsAreOneActOfBothPlotsSinceSowing) {
  ASSERT_NE(planned("101"), planned("102"));
  tablet.tap(ShowStands{});
  tablet.tap(StateExchanged{});
  EXPECT_TRUE(form().exchanged);
  EXPECT_FALSE(form().can_keep) << "with which plot?";
  EXPECT_FALSE(form().near.empty());
  tablet.tap(StateExchanged{.with = "102"});
  EXPECT_TRUE(form().can_keep);
  EXPECT_TRUE(form().from_sowing);
  const std::size_t before = tablet.ledger.size();
  const Effects effects = tablet.tap(KeepSown{"packet_mixed"});
  ASSERT_THAT(effects, SizeIs(1)) << "one transaction";
  tablet.settle();
  ASSERT_EQ(tablet.ledger.size(), before + 2);
  const auto said = stated(2);
  EXPECT_EQ(said[0].plot, plot("101"));
  EXPECT_EQ(said[0].holds, entry(planned("102")));
  EXPECT_EQ(said[1].plot, plot("102"));
  EXPECT_EQ(said[1].holds, entry(planned("101")));
  for (const AsSown& each : said) {
    EXPECT_EQ(each.status, AsSownStatus::kHolds);
    EXPECT_EQ(each.since, grass_plan().sown);
    EXPECT_EQ(each.reason, "packet_mixed");
  }
  EXPECT_EQ(tablet.rate().plot, "101") << "back on the card";
  EXPECT_EQ(tablet.rate().stands.stated, AsSownStatus::kHolds);
  EXPECT_EQ(tablet.rate().names, "") << "blind as before";
  EXPECT_TRUE(tablet.rate().blind);
}

TEST_F(OnCard, SwappedAgainIsAsPlannedAgain) {
  exchange("102");
  exchange("102");
  for (const AsSown& each : stated(2)) {
    EXPECT_EQ(each.status, AsSownStatus::kAsPlanned);
    EXPECT_EQ(each.since, grass_plan().sown) << "of one day the last holds";
  }
  for (const AsSown& holds : tablet.model.trials[0].as_sown)
    EXPECT_EQ(holds.status, AsSownStatus::kAsPlanned);
}

// Whether two plots hold the same entry is told to nobody who rates blind.
TEST_F(OnCard, PlotsOfOneEntryAreExchangedLikeAnyOther) {
  std::string twin;
  for (const PlanPlot& each : grass_plan().plots)
    if (each.number != "101" && each.entry == planned("101")) twin = each.number;
  ASSERT_NE(twin, "");
  exchange(twin);
  EXPECT_EQ(tablet.notice(), "");
  for (const AsSown& each : stated(2)) {
    EXPECT_EQ(each.status, AsSownStatus::kHolds);
    EXPECT_EQ(each.holds, entry(planned("101")));
  }
}

TEST_F(OnCard, APlotThatIsNotKnownCannotBeExchanged) {
  tablet.tap(ShowStands{});
  tablet.tap(StateSown{.status = AsSownStatus::kUnknown});
  tablet.tap(KeepSown{"not_known"});
  tablet.settle();
  const std::size_t records = tablet.ledger.size();
  tablet.tap(GoToPlot{"102"});
  tablet.tap(ShowStands{});
  tablet.tap(StateExchanged{});
  tablet.tap(KeepSown{"packet_mixed"});
  EXPECT_EQ(tablet.notice(), "notice.sown_choose_plot");
  tablet.tap(StateExchanged{.with = "102"});
  EXPECT_EQ(tablet.notice(), "notice.sown_same_plot");
  tablet.tap(StateExchanged{.with = "999"});
  EXPECT_EQ(tablet.notice(), "notice.unknown_plot");
  tablet.tap(StateExchanged{.with = "101"});
  tablet.tap(KeepSown{"packet_mixed"});
  EXPECT_EQ(tablet.notice(), "notice.sown_not_known");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), records);
  EXPECT_EQ(form().plot, "102") << "to be mended there";
}

TEST_F(OnCard, TheOtherPlotsNumberMayBeTyped) {
  tablet.tap(ShowStands{});
  tablet.tap(StateExchanged{.typing = true});
  EXPECT_EQ(form().typing, "");
  tablet.tap(KeyText{"20"});
  tablet.tap(KeyText{"9"});
  tablet.tap(KeyErase{});
  tablet.tap(KeyText{"1"});
  EXPECT_EQ(form().typing, "201");
  tablet.tap(KeyDone{});
  EXPECT_FALSE(form().typing);
  EXPECT_EQ(form().other, "201");
  tablet.tap(StateExchanged{.typing = true});
  tablet.tap(TrialsBack{});
  EXPECT_FALSE(form().typing) << "one step back: the form";
  EXPECT_TRUE(form().exchanged);
}

// Nothing that is typed on the form reaches the card below.
TEST_F(OnCard, WhatIsTypedIsNoValueOfTheCard) {
  tablet.tap(ShowStands{});
  tablet.tap(KeyText{"85"});
  tablet.tap(KeyDone{});
  tablet.tap(TrialsBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), 1U);
}

TEST_F(OnCard, ReseededAndAbandonedCountFromTodayOn) {
  tablet.tap(ShowStands{});
  tablet.tap(StateSown{.status = AsSownStatus::kReseeded});
  EXPECT_EQ(form().since, "2026-05-04");
  EXPECT_TRUE(form().from_today);
  tablet.tap(StateSown{.status = AsSownStatus::kUnknown});
  EXPECT_EQ(form().since, format_date(grass_plan().sown)) << "wrong from the first day on";
  tablet.tap(SaySownFrom{SownFrom::kToday});
  EXPECT_EQ(form().since, "2026-05-04");
  tablet.tap(StepDay{3});
  EXPECT_TRUE(form().by_day);
  EXPECT_EQ(form().since, "2026-05-01");
}

// What was stated by mistake is put right by saying that it is as planned, from the same day.
TEST_F(OnCard, AsPlannedTakesThePlaceOfWhatWasStated) {
  tablet.tap(ShowStands{});
  tablet.tap(StateSown{.status = AsSownStatus::kReseeded});
  tablet.tap(StepDay{5});
  tablet.tap(KeepSown{"poor_stand"});
  tablet.settle();
  tablet.tap(ShowStands{});
  tablet.tap(StateSown{.status = AsSownStatus::kAsPlanned});
  EXPECT_EQ(form().since, "2026-04-29");
  tablet.tap(KeepSown{"checked"});
  tablet.settle();
  EXPECT_EQ(tablet.rate().stands.stated, AsSownStatus::kAsPlanned);
  EXPECT_EQ(tablet.notice(), "");
}

// Proves: plots of two species that hold values are exchanged, and every screen still reads them.
TEST_F(OnCard, PlotsThatHaveValuesAreExchangedWithPlotsOfAnotherSpecies) {
  for (const char* const stage : {"R0", "R0", "3"}) {
    tablet.choose("percent_stand", "85");
    tablet.choose("seedling_vigor", "4");
    tablet.choose("maturity", stage);
    tablet.choose("stubble_height", "3.5");
    tablet.settle();
  }
  const std::size_t given = tablet.ledger.size();
  tablet.tap(GoToPlot{"101"});
  exchange("103");  // alfalfa
  EXPECT_EQ(tablet.ledger.size(), given + 2) << "values stay as they are";
  EXPECT_EQ(tablet.rate().plot, "101");
  for (const char* const plot : {"101", "103"}) {
    tablet.tap(GoToPlot{plot});
    EXPECT_EQ(tablet.rate().measures.at(0).shown, "85");
  }
  EXPECT_EQ(tablet.rate().measures.at(2).scale, "maturity_grass");
  tablet.choose("maturity", "R0");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().entered, "R0");
  tablet.look_over(grass_plan(), "stand");
  tablet.tap(ReviewMeasure{"maturity"});
  EXPECT_EQ(tablet.map().cells.size(), 6U);
  tablet.tap(ShowHistory{"101"});
  EXPECT_EQ(tablet.history().plot, "101");
}

TEST_F(OnCard, AnAbandonedPlotIsWalkedPastAtOnce) {
  const std::size_t plots = tablet.rate().plots;
  tablet.tap(GoToPlot{"102"});
  tablet.tap(ShowStands{});
  tablet.tap(StateSown{.status = AsSownStatus::kAbandoned});
  tablet.tap(KeepSown{"washed_out"});
  tablet.settle();
  EXPECT_EQ(tablet.rate().plots, plots - 1);
  EXPECT_EQ(tablet.rate().plot, "103");
  ASSERT_EQ(tablet.notice(), "notice.sown_gone");
  EXPECT_THAT(tablet.above().notice->text.arguments, ElementsAre("102"));
}

// Proves: whoever names an abandoned plot is asked what stands there, on any day, and what they
// then give it is kept.
TEST_F(OnCard, AnAbandonedPlotIsAskedAboutBeforeItIsRated) {
  abandon("102");
  tablet.next_day();
  tablet.restart();
  tablet.sign_in("AB");
  tablet.open(grass_plan(), "stand");
  tablet.type("102");
  tablet.tap(KeyDone{});
  ASSERT_EQ(tablet.notice(), "notice.abandoned");
  EXPECT_FALSE(tablet.above().notice->good);
  EXPECT_THAT(tablet.above().notice->text.arguments, ElementsAre("102", "2026-05-04"));
  EXPECT_EQ(form().plot, "102");
  EXPECT_EQ(form().stated, AsSownStatus::kAbandoned);
  // It stays out where nothing is said.
  tablet.tap(TrialsBack{});
  EXPECT_EQ(tablet.rate().plot, "101");
  tablet.tap(GoToPlot{"102"});
  tablet.tap(StateSown{.status = AsSownStatus::kHolds, .entry = "B"});
  EXPECT_EQ(form().since, "2026-05-04") << "in the place of what was stated";
  tablet.tap(StateSown{.status = AsSownStatus::kAsPlanned});
  tablet.tap(KeepSown{"checked"});
  tablet.settle();
  ASSERT_EQ(tablet.rate().plot, "102");
  tablet.choose("percent_stand", "40");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().entered, "40");
  EXPECT_EQ(tablet.ledger.back().subject, plot_id(grass_plan().id(), "102").uuid);
}

TEST_F(OnCard, AScannedStakeOfAnAbandonedPlotIsNoValue) {
  abandon("102");
  tablet.scan("G1/102");
  EXPECT_EQ(form().plot, "102");
  tablet.tap(TrialsBack{});
  tablet.scan("102");
  EXPECT_EQ(form().plot, "102");
}

TEST_F(OnCard, WhileItIsAskedWhichStakeOneSeesAnAbandonedPlotIsOnlyTold) {
  abandon("102");
  tablet.next_day();
  tablet.agrees = false;
  tablet.open(grass_plan(), "stand");
  ASSERT_TRUE(tablet.rate().stake.any());
  tablet.tap(NameStake{"102"});
  EXPECT_EQ(tablet.notice(), "notice.abandoned_told") << "no form is open to say it in";
  EXPECT_FALSE(tablet.model.standing);
}

TEST_F(OnCard, WhatWasGivenBeforeCanStillBeTakenBack) {
  tablet.choose("percent_stand", "85");
  tablet.settle();
  ASSERT_TRUE(tablet.rate().can_take_back);
  tablet.tap(ShowStands{});
  tablet.tap(StateSown{.status = AsSownStatus::kReseeded});
  tablet.tap(KeepSown{"poor_stand"});
  tablet.settle();
  EXPECT_TRUE(tablet.rate().can_take_back);
  tablet.tap(TakeBack{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().kind, kind::kWithdrawal) << "the value, not the statement";
}

TEST_F(OnCard, NothingIsStatedWhileItIsAskedWhichStakeOneSees) {
  Tablet fresh;
  fresh.agrees = false;
  fresh.open(grass_plan(), "stand");
  ASSERT_TRUE(fresh.rate().stake.any());
  EXPECT_FALSE(fresh.rate().stands.can_state);
  fresh.tap(ShowStands{});
  EXPECT_FALSE(fresh.model.standing);
}

TEST_F(OnCard, WhoeverGetsTheTabletGetsTheCard) {
  tablet.tap(ShowStands{});
  tablet.tap(HandOver{});
  tablet.sign_in("CD");
  EXPECT_EQ(tablet.rate().plot, "101");
}

TEST_F(OnCard, WhatIsNotSavedLeadsBackToTheCard) {
  tablet.break_disk(true);
  tablet.tap(ShowStands{});
  tablet.tap(StateSown{.status = AsSownStatus::kUnknown});
  tablet.tap(KeepSown{"not_known"});
  tablet.settle();
  ASSERT_TRUE(tablet.above().unsaved);
  EXPECT_FALSE(tablet.rate().stands.stated);
  tablet.break_disk(false);
  tablet.tap(RetryUnsaved{});
  tablet.settle();
  EXPECT_EQ(tablet.rate().stands.stated, AsSownStatus::kUnknown);
}

class AtTheScale : public HarvestTest {
 protected:
  AtTheScale() { start(); }
};

TEST_F(AtTheScale, ItIsOneTapAndWhatIsTypedWaits) {
  tablet.type("31");
  tablet.tap(ShowStands{});
  ASSERT_TRUE(tablet.model.standing);
  tablet.tap(StateExchanged{.with = "103"});
  tablet.tap(KeepSown{"stake_moved"});
  tablet.settle();
  EXPECT_EQ(tablet.weighing().stands.stated, AsSownStatus::kHolds);
  EXPECT_EQ(tablet.text(Field::kGross), "31");
  tablet.tap(ShowStands{});
  tablet.tap(StateSown{.status = AsSownStatus::kAbandoned});
  tablet.tap(KeepSown{"damaged"});
  tablet.settle();
  EXPECT_NE(tablet.weighing().plot, "101");
  EXPECT_EQ(tablet.text(Field::kGross), "") << "it was of the plot that is gone";
}

TEST_F(AtTheScale, AnAbandonedPlotIsAskedAboutBeforeItIsWeighed) {
  tablet.tap(ShowStands{});
  tablet.tap(StateSown{.status = AsSownStatus::kAbandoned});
  tablet.tap(KeepSown{"damaged"});
  tablet.settle();
  tablet.fill(Field::kPlot, "101");
  tablet.tap(KeyDone{});
  ASSERT_EQ(tablet.notice(), "notice.abandoned");
  ASSERT_TRUE(tablet.model.standing);
  tablet.tap(StateSown{.status = AsSownStatus::kAsPlanned});
  tablet.tap(KeepSown{"checked"});
  tablet.settle();
  ASSERT_EQ(tablet.weighing().plot, "101");
  weigh("28");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().entered, "28");
  EXPECT_EQ(tablet.ledger.back().subject, plot_id(grass_plan().id(), "101").uuid);
}

}  // namespace
}  // namespace ligule::flow
