// What happened to a trial: noted, listed, taken back.
#include <algorithm>

#include "tests/app/flow/trials_fixture.h"

namespace ligule::flow {
namespace {

using testing::ElementsAre;
using testing::SizeIs;

TEST_F(OnTrials, AnEventIsADatedRecordWithItsPlaceAndWords) {
  open();
  tablet.tap(NewEvent{});
  EXPECT_THAT(page<EventFormView>().blocks, ElementsAre(1, 2));
  tablet.tap(KeepEvent{});
  EXPECT_EQ(tablet.notice(), "notice.choose_event");
  tablet.tap(DescribeEvent{.what = "nonsense"});
  EXPECT_EQ(page<EventFormView>().what, "");
  tablet.tap(DescribeEvent{.what = "damage"});
  tablet.tap(DescribeEvent{.block = 2});
  tablet.tap(StepDay{2});
  tablet.type("not typed yet");
  tablet.tap(DescribeEvent{.writing = "words"});
  tablet.type("deer inn");
  tablet.tap(KeyErase{});
  tablet.tap(KeyDone{});
  tablet.tap(KeepEvent{});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kEvent);
  EXPECT_EQ(last().entered, "damage");
  EXPECT_EQ(last().reason, "deer in");
  EXPECT_EQ(last().details, R"({"block":"2","on":"2026-05-02"})");
  const auto events = page<TrialPageView>();
  EXPECT_EQ(events.tab, TrialTab::kEvents);
  ASSERT_THAT(events.events, SizeIs(1));
  EXPECT_EQ(
      events.events[0],
      (EventRow{
          "damage", true, "2026-05-02", "2", "AB", "deer in", last().id, std::nullopt, true, {}}));
}

TEST_F(OnTrials, AnotherEventWithoutWordsAsksForThemAndKeepsNothing) {
  open();
  tablet.tap(NewEvent{});
  tablet.tap(DescribeEvent{.what = "other"});
  const std::size_t records = tablet.ledger.size();
  tablet.tap(KeepEvent{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), records);
  EXPECT_EQ(tablet.notice(), "notice.say_event");
  EXPECT_EQ(page<EventFormView>().writing.value_or(EventFieldView{}).key, "words");
  tablet.type("  ");
  tablet.tap(KeyDone{});
  tablet.tap(KeepEvent{});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), records) << "blanks are no words";
  tablet.tap(DescribeEvent{.writing = "words"});
  tablet.type("gate left open");
  tablet.tap(KeyDone{});
  tablet.tap(KeepEvent{});
  tablet.settle();
  EXPECT_EQ(last().entered, "other");
  EXPECT_EQ(last().reason, "gate left open");
}

TEST_F(OnTrials, EventsOfTheLedgerAreListedNewestFirst) {
  for (const char* what : {"damage", "irrigation"}) {
    open();
    tablet.tap(NewEvent{});
    tablet.tap(DescribeEvent{.what = what});
    if (std::string_view(what) == "irrigation") tablet.tap(StepDay{3});
    tablet.tap(KeepEvent{});
    tablet.settle();
  }
  tablet.restart();
  tablet.sign_in("AB");
  tablet.tap(ShowTrials{});
  open();
  const auto events = tab(TrialTab::kEvents);
  EXPECT_TRUE(events.loaded);
  ASSERT_THAT(events.events, SizeIs(2));
  EXPECT_EQ(events.events[0].what, "damage");
  EXPECT_EQ(events.events[1].on, "2026-05-01");
}

class EventNoted : public OnTrials {
 protected:
  EventNoted() {
    open();
    note("clipped");
    note("damage");
  }
  void note(const char* what) {
    tablet.tap(NewEvent{});
    tablet.tap(DescribeEvent{.what = what});
    tablet.tap(KeepEvent{});
    tablet.settle();
  }
  std::vector<EventRow> rows() { return page<TrialPageView>().events; }
  EventRow row(std::string_view what) {
    const auto all = rows();
    const auto at = std::ranges::find(all, what, &EventRow::what);
    return at == all.end() ? EventRow{} : *at;
  }
};

TEST_F(EventNoted, IsTakenBackByItsReasonAndStaysToBeRead) {
  const RecordId damage = row("damage").id;
  tablet.tap(ShowEventBack{damage});
  EXPECT_EQ(page<EventBackView>().event.what, "damage");
  EXPECT_TRUE(page<EventBackView>().can_keep);
  tablet.tap(TakeEventBack{"mistap"});
  tablet.settle();
  EXPECT_EQ(last().kind, kind::kWithdrawal);
  EXPECT_TRUE(takes_event_back(last()));
  EXPECT_THAT(last().targets, ElementsAre(damage));
  EXPECT_EQ(last().reason, "mistap");
  EXPECT_EQ(last().trial, tablet.model.trials[0].plan.id());
  EXPECT_EQ(last().plan, tablet.model.trials[0].digest);
  ASSERT_THAT(rows(), SizeIs(2));
  EXPECT_EQ(row("damage").taken_back, (EventTakenBack{"2026-05-04", "AB", "mistap"}));
  EXPECT_FALSE(row("damage").can_take_back);
  EXPECT_FALSE(row("clipped").taken_back);
  EXPECT_TRUE(row("clipped").can_take_back);
  // The ledger says the same when it is read anew.
  tablet.restart();
  tablet.sign_in("AB");
  tablet.tap(ShowTrials{});
  open();
  EXPECT_TRUE(tab(TrialTab::kEvents).loaded);
  EXPECT_EQ(row("damage").taken_back, (EventTakenBack{"2026-05-04", "AB", "mistap"}));
}

TEST_F(EventNoted, IsTakenBackOnceOnly) {
  const RecordId damage = row("damage").id;
  tablet.tap(ShowEventBack{damage});
  tablet.tap(TakeEventBack{"not_valid"});
  EXPECT_FALSE(row("damage").taken_back) << "not before it is kept";
  EXPECT_FALSE(row("damage").can_take_back);
  tablet.tap(ShowEventBack{damage});
  EXPECT_EQ(rows().size(), 2U) << "still the page";
  tablet.settle();
  const std::size_t records = tablet.ledger.size();
  tablet.tap(ShowEventBack{damage});
  tablet.tap(TakeEventBack{"mistap"});
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), records);
}

TEST_F(EventNoted, NeedsAReasonOfTheListAndGoesBackWithoutOne) {
  const std::size_t records = tablet.ledger.size();
  tablet.tap(TakeEventBack{"mistap"});
  tablet.tap(ShowEventBack{RecordId{}});
  EXPECT_EQ(rows().size(), 2U);
  tablet.tap(ShowEventBack{row("damage").id});
  tablet.tap(TakeEventBack{"because"});
  EXPECT_EQ(page<EventBackView>().event.what, "damage");
  tablet.tap(TrialsBack{});
  EXPECT_EQ(rows().size(), 2U);
  tablet.settle();
  EXPECT_EQ(tablet.ledger.size(), records);
}

}  // namespace
}  // namespace ligule::flow
