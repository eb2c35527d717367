// What the form of an event asks for, takes, and refuses.
#include <algorithm>

#include "tests/app/flow/trials_fixture.h"

namespace ligule::flow {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;
using testing::SizeIs;

class OnEventForm : public OnTrials {
 protected:
  OnEventForm() { open(); }
  void begin(const char* what) {
    tablet.tap(NewEvent{});
    tablet.tap(DescribeEvent{.what = what});
  }
  void write(std::string_view key, std::string_view text) {
    tablet.tap(DescribeEvent{.writing = std::string(key)});
    while (!form().writing.value_or(EventFieldView{}).text.empty()) tablet.tap(KeyErase{});
    tablet.type(text);
    tablet.tap(KeyDone{});
  }
  EventFormView form() { return page<EventFormView>(); }
  // Keeps the event; its details.
  std::string keep() {
    const std::size_t before = tablet.ledger.size();
    tablet.tap(KeepEvent{});
    tablet.settle();
    return tablet.ledger.size() == before + 1 ? last().details : "nothing was kept";
  }
  // What keeping it is refused with, and which field is opened.
  std::pair<std::string, std::string> refused() {
    const std::size_t before = tablet.ledger.size();
    tablet.tap(KeepEvent{});
    const std::string notice = tablet.notice();
    tablet.settle();
    EXPECT_EQ(tablet.ledger.size(), before);
    return {notice, form().writing.value_or(EventFieldView{}).key};
  }
  std::vector<std::string> keys() {
    std::vector<std::string> all;
    for (const EventFieldView& field : form().fields) all.push_back(field.key);
    return all;
  }
  std::vector<Words> facts() { return page<TrialPageView>().events.front().facts; }
};

using Refused = std::pair<std::string, std::string>;

TEST_F(OnEventForm, EachKindAsksForItsOwn) {
  begin("fertilizer");
  EXPECT_THAT(keys(), ElementsAre("material", "rate", "words"));
  tablet.tap(DescribeEvent{.what = "lime"});
  EXPECT_THAT(keys(), ElementsAre("material", "rate", "words"));
  tablet.tap(DescribeEvent{.what = "clipped"});
  EXPECT_THAT(keys(), ElementsAre("height_after", "words"));
  tablet.tap(DescribeEvent{.what = "grazing_in"});
  EXPECT_THAT(keys(), ElementsAre("animals", "head", "height_before", "words"));
  tablet.tap(DescribeEvent{.what = "grazing_out"});
  EXPECT_THAT(keys(), ElementsAre("animals", "head", "height_after", "words"));
  tablet.tap(DescribeEvent{.what = "weather"});
  EXPECT_THAT(keys(), ElementsAre("words"));
  tablet.tap(DescribeEvent{.what = "mowing"});
  EXPECT_EQ(form().what, "weather") << "old records have it; it is not offered";
  tablet.tap(DescribeEvent{.what = "weather"});
  EXPECT_EQ(form().what, "") << "tapped again it lets choose anew";
}

TEST_F(OnEventForm, MaterialAndRateAreKeptAsTyped) {
  begin("lime");
  write("material", "ag lime, 90 ENP");
  write("rate", "2 ton/acre");
  EXPECT_EQ(keep(), R"({"material":"ag lime, 90 ENP","on":"2026-05-04","rate":"2 ton/acre"})");
  EXPECT_EQ(last().entered, "lime");
  EXPECT_THAT(facts(), ElementsAre(Words{"event.fact.material", {"ag lime, 90 ENP"}},
                                   Words{"event.fact.rate", {"2 ton/acre"}}));
}

TEST_F(OnEventForm, ARateWithoutAUnitIsNone) {
  begin("fertilizer");
  write("rate", "50");
  EXPECT_EQ(refused(), Refused("notice.event_rate", "rate"));
  tablet.type(" lb N/acre");
  EXPECT_EQ(keep(), R"({"on":"2026-05-04","rate":"50 lb N/acre"})");
}

TEST_F(OnEventForm, WhatIsTooLongGoesIntoTheWords) {
  begin("fertilizer");
  write("material", std::string(121, 'a'));
  EXPECT_EQ(refused(), Refused("notice.event_long", "material"));
}

TEST_F(OnEventForm, AnimalsAreTappedOrTyped) {
  begin("grazing_in");
  tablet.tap(DescribeEvent{.animals = "sheep"});
  EXPECT_EQ(form().animals, "sheep");
  tablet.tap(DescribeEvent{.animals = "sheep"});
  EXPECT_EQ(form().animals, "") << "a second tap takes it back";
  tablet.tap(DescribeEvent{.animals = "bison"});
  EXPECT_EQ(form().animals, "") << "none that is offered";
  tablet.tap(DescribeEvent{.animals = "cattle"});
  write("animals", "heifers");
  EXPECT_EQ(form().animals, "");
  write("head", "12");
  write("height_before", "8");
  EXPECT_EQ(keep(),
            R"({"animals":"heifers","head":"12","height_before":"8 in","on":"2026-05-04"})");
  EXPECT_THAT(facts(), ElementsAre(Words{"event.fact.animals", {"heifers"}},
                                   Words{"event.fact.head", {"12"}},
                                   Words{"event.fact.height_before", {"8 in"}}));
}

TEST_F(OnEventForm, HeadIsAWholeNumberFromOne) {
  begin("grazing_out");
  for (const char* head : {"0", "-2", "1.5", "many", "100001"}) {
    write("head", head);
    EXPECT_EQ(refused(), Refused("notice.event_head", "head")) << head;
  }
  write("head", "1");
  EXPECT_EQ(keep(), R"({"head":"1","on":"2026-05-04"})");
}

TEST_F(OnEventForm, AHeightIsALengthInThePersonsUnitUnlessItSaysOne) {
  begin("grazing_out");
  for (const char* height : {"high", "3 lb", "-3", "241 in"}) {
    write("height_after", height);
    EXPECT_EQ(refused(), Refused("notice.event_height", "height_after")) << height;
  }
  write("height_after", "7 cm");
  EXPECT_EQ(keep(), R"({"height_after":"7 cm","on":"2026-05-04"})");
  tablet.tap(Choose{Preference::kLength, "cm"});
  begin("clipped");
  EXPECT_EQ(form().fields.front().unit, "cm");
  write("height_after", "10");
  EXPECT_EQ(keep(), R"({"height_after":"10 cm","on":"2026-05-04"})");
}

// Eight inches never become eight centimetres.
TEST_F(OnEventForm, ABareHeightIsLetGoWhenWhoeverTakesTheTabletHasAnotherUnit) {
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"CD"});
  tablet.tap(Choose{Preference::kLength, "cm"});
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"AB"});
  begin("grazing_out");
  write("height_after", "8");
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"CD"});
  EXPECT_EQ(tablet.notice(), "notice.unit_changed");
  tablet.settle();
  EXPECT_EQ(keep(), R"({"on":"2026-05-04"})");
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"AB"});
  begin("grazing_out");
  write("height_after", "8 in");
  tablet.tap(HandOver{});
  tablet.tap(PickPerson{"CD"});
  tablet.settle();
  EXPECT_EQ(keep(), R"({"height_after":"8 in","on":"2026-05-04"})") << "its unit was said";
}

TEST_F(OnEventForm, OnlyWhatBelongsToTheKindIsKept) {
  begin("fertilizer");
  write("material", "urea");
  tablet.tap(DescribeEvent{.what = "damage"});
  EXPECT_EQ(keep(), R"({"on":"2026-05-04"})");
}

TEST_F(OnEventForm, WhatIsTypedGoesToItsFieldWhenAnotherIsOpened) {
  begin("fertilizer");
  tablet.tap(DescribeEvent{.writing = "material"});
  tablet.type("urea");
  tablet.tap(DescribeEvent{.writing = "rate"});
  tablet.type("50 lb/acre");
  tablet.tap(DescribeEvent{.writing = ""});
  EXPECT_FALSE(form().writing);
  tablet.tap(DescribeEvent{.writing = "head"});
  EXPECT_FALSE(form().writing) << "not of a fertilizer";
  EXPECT_EQ(keep(), R"({"material":"urea","on":"2026-05-04","rate":"50 lb/acre"})");
}

// --- a spray: when may people go in again?

TEST_F(OnEventForm, ASprayHasToSayHowTheLabelNamesTheTime) {
  begin("spray");
  EXPECT_EQ(refused(), Refused("notice.no_entry_choose", ""));
  tablet.tap(DescribeEvent{.no_entry = NoEntryBy::kNone});
  EXPECT_EQ(keep(), R"({"no_entry":"none","on":"2026-05-04"})");
  EXPECT_THAT(facts(), ElementsAre(Words{"event.fact.no_entry_none"}));
  begin("spray");
  tablet.tap(DescribeEvent{.no_entry = NoEntryBy::kNotKnown});
  EXPECT_EQ(keep(), R"({"no_entry":"not_known","on":"2026-05-04"})");
  EXPECT_THAT(facts(), ElementsAre(Words{"event.fact.no_entry_not_known"}));
}

TEST_F(OnEventForm, HoursOfTheLabelRunFromTheEndOfTheSpray) {
  begin("spray");
  write("material", "a herbicide");
  tablet.tap(DescribeEvent{.no_entry = NoEntryBy::kHours});
  EXPECT_THAT(keys(), ElementsAre("material", "rate", "no_entry_hours", "ended", "words"));
  EXPECT_EQ(refused(), Refused("notice.no_entry_hours", "no_entry_hours"));
  write("no_entry_hours", "0");
  EXPECT_EQ(refused(), Refused("notice.no_entry_hours", "no_entry_hours"));
  write("no_entry_hours", "24");
  EXPECT_EQ(form().comes_to, "") << "from when?";
  EXPECT_EQ(refused(), Refused("notice.event_clock_missing", "ended"));
  write("ended", "7");
  EXPECT_EQ(refused(), Refused("notice.event_clock", "ended"));
  write("ended", "9:00 am");
  EXPECT_EQ(refused(), Refused("notice.event_to_come", "ended")) << "it is 8 o'clock";
  write("ended", "7:15 am");
  EXPECT_EQ(form().comes_to, "2026-05-05 07:15");
  tablet.tap(StepDay{1});
  EXPECT_EQ(form().comes_to, "2026-05-04 07:15");
  EXPECT_EQ(keep(), R"({"ended":"07:15","material":"a herbicide","no_entry":"hours",)"
                    R"("no_entry_hours":"24","on":"2026-05-03"})");
  EXPECT_EQ(facts().back(), (Words{"event.fact.no_entry_hours", {"2026-05-04 07:15", "24"}}));
}

TEST_F(OnEventForm, ADateAndHourAreNotBeforeTheSpray) {
  begin("spray");
  tablet.tap(DescribeEvent{.no_entry = NoEntryBy::kUntil});
  EXPECT_THAT(keys(), ElementsAre("material", "rate", "until_clock", "words"));
  EXPECT_EQ(form().until_day, "2026-05-04");
  EXPECT_EQ(refused(), Refused("notice.event_clock_missing", "until_clock"));
  write("until_clock", "1430");
  tablet.tap(StepUntil{-1});
  EXPECT_EQ(refused(), Refused("notice.no_entry_before", ""));
  tablet.tap(StepUntil{3});
  EXPECT_EQ(form().comes_to, "2026-05-06 14:30");
  EXPECT_EQ(keep(),
            R"({"no_entry":"until","no_entry_until":"2026-05-06 14:30","on":"2026-05-04"})");
  EXPECT_THAT(facts(), ElementsAre(Words{"event.fact.no_entry_until", {"2026-05-06 14:30"}}));
}

TEST_F(OnEventForm, OtherKindsSayNothingOfEntry) {
  begin("spray");
  tablet.tap(DescribeEvent{.no_entry = NoEntryBy::kNotKnown});
  tablet.tap(DescribeEvent{.what = "weather"});
  EXPECT_EQ(keep(), R"({"on":"2026-05-04"})");
}

// --- ledgers from before

TEST_F(OnEventForm, OldEventsAreReadAsTheyWere) {
  Record old;
  old.id.uuid.bytes[0] = 9;
  old.kind = kind::kEvent;
  old.trial = grass_plan().id();
  old.at = tablet.model.now;
  old.entered = "mowing";
  old.details = R"({"on":"2025-06-01"})";
  tablet.ledger.push_back(old);
  old.id.uuid.bytes[0] = 10;
  old.entered = "spray";
  tablet.ledger.push_back(old);
  tablet.restart();
  tablet.sign_in("AB");
  EXPECT_THAT(tablet.today().no_entry, IsEmpty()) << "it says nothing of entry";
  tablet.tap(ShowTrials{});
  open();
  const auto events = tab(TrialTab::kEvents).events;
  ASSERT_THAT(events, SizeIs(2));
  for (const EventRow& event : events) {
    EXPECT_TRUE(event.known) << event.what;
    EXPECT_THAT(event.facts, IsEmpty());
  }
}

}  // namespace
}  // namespace ligule::flow
