// The rating card: single points of a percent, what must stand on it on every tablet, and what lies
// over it.
#include <gmock/gmock.h>

#include "tests/app/screens/taps_fixture.h"

namespace ligule::screens {
namespace {

using namespace tests;  // the samples of this folder

class CardTaps : public Taps {
 protected:
  static touch::Register seen(const flow::View& view, const Device& device,
                              const touch::Look& look = {}, const flow::Overlay& overlay = {}) {
    Glass glass(device, look);
    Scratch scratch;
    std::vector<flow::Intent> out;
    return glass.show([&](touch::Ui& ui) { draw(ui, english(), view, overlay, scratch, out); });
  }
};

// Proves: before anything is kept, on every tablet, a single point is three taps away.
TEST_F(CardTaps, SinglePointsAreBesideTheTiles) {
  for (const Device& device : kDevices) {
    only<flow::ShowTens>(tap(sample_rate(0), "Single points", {}, device));
    EXPECT_EQ(only<flow::ShowFine>(tap(tens_rate(), "Stand/80-90", {}, device)).around, "85");
    only<flow::ShowTens>(tap(tens_rate(), "Back to the tiles", {}, device));
    EXPECT_EQ(only<flow::ChooseValue>(tap(fine_rate(), "Stand/87", {}, device)).entered, "87");
    EXPECT_TRUE(touch::find(seen(sample_rate(1), device), "Single points").empty())
        << "scores have none";
  }
}

// Proves: what a percent is a percent of stands on the card, whole, however it is held.
TEST_F(CardTaps, ThePercentSaysOfWhat) {
  for (const Device& device : kDevices) {
    const auto row = seen(sample_rate(0), device);
    EXPECT_TRUE(touch::shows(row, "% of row filled") ||
                touch::shows(row, "Share of the rows that is filled"))
        << device.name;
    const auto ground = seen(broadcast_rate(), device);
    EXPECT_TRUE(touch::shows(ground, "% ground covered") ||
                touch::shows(ground, "Share of the ground that is covered"))
        << device.name;
  }
}

// Proves: a long name costs neither block nor progress.
TEST_F(CardTaps, ALongNameGivesWay) {
  for (const Device& device : kDevices) {
    for (const auto& focus : {std::optional<std::size_t>(0), std::optional<std::size_t>(1)}) {
      const auto card = seen(named_rate(focus), device);
      const bool tight = device.name == "8in-portrait";
      EXPECT_TRUE(touch::shows(card, "Far Me")) << device.name;
      if (tight) continue;  // the stakes tell it there
      EXPECT_TRUE(touch::shows(card, "Block 2")) << device.name;
      EXPECT_TRUE(touch::shows(card, "37 of 96")) << device.name;
    }
  }
}

// Proves: a notice that only has room on a card takes no tap from what lies over it.
TEST_F(CardTaps, NotSavedIsAnsweredOverANotice) {
  flow::Overlay both = unsaved_overlay();
  both.notice = long_notice_overlay().notice;
  for (const Device& device : kDevices) {
    only<flow::RetryUnsaved>(tap(sample_rate(1), "Save again", both, device));
    only<flow::DropUnsaved>(tap(busy_today(), "Let them go", both, device));
  }
}

// Proves: what flashes when a value is kept or questioned covers nothing that is read or tapped but
// the way out.
TEST_F(CardTaps, AFlashCoversNothingThatIsRead) {
  const flow::Overlay refused = notice_overlay();
  const std::vector<std::pair<flow::View, flow::Overlay>> screens{
      {sample_rate(0), {}},
      {sample_rate(1), {}},
      {named_rate(1), {}},
      {sample_rate(0), refused},
      {weighing(flow::Field::kGross), {}},
      {weighing(flow::Field::kGross), refused},
      {dry_weighing(), {}},
      {busy_today(), {}},
      {review_stand(), refused},
      {tablet_view(), refused}};
  for (const Device& device : kDevices)
    for (const touch::Hand hand : {touch::Hand::kRight, touch::Hand::kLeft})
      for (const touch::Flash flash : {touch::Flash::kKept, touch::Flash::kQuestioned}) {
        for (const auto& [view, overlay] : screens) {
          Glass glass(device, {.hand = hand});
          Scratch scratch;
          std::vector<flow::Intent> out;
          const auto& drawn = glass.show([&](touch::Ui& ui) {
            draw(ui, english(), view, overlay, scratch, out);
            ui.flash(flash);
          });
          const auto sign = std::ranges::find_if(drawn.widgets, [](const touch::Widget& widget) {
            return widget.label.starts_with("flash");
          });
          ASSERT_NE(sign, drawn.widgets.end());
          EXPECT_GE(sign->drawn.width(), device.ppi / 25.4 * 12) << "seen at arm's length";
          for (const touch::Widget& widget : drawn.widgets) {
            if (&widget == &*sign || widget.label == "Back" || widget.label == "Tablet") continue;
            const auto both = touch::visible_part(widget).common(sign->drawn);
            EXPECT_TRUE(both.width() < 2 || both.height() < 2)
                << "\"" << widget.label << "\" lies under the sign, " << view.index() << " on "
                << device.name << (hand == touch::Hand::kLeft ? ", left" : "");
          }
        }
      }
}

TEST_F(CardTaps, TheClockAndTheSignOfSavingStandInLargeText) {
  for (const Device& device : kDevices)
    EXPECT_TRUE(touch::shows(seen(busy_today(), device, {.large_text = true}), "10:42"))
        << device.name;
}

// A ledger that is large, or that another program holds, takes its seconds to say it.
TEST_F(CardTaps, NothingIsSaidToBeSealedBeforeItIsKnown) {
  flow::TodayView view = busy_today();
  view.unsealed = 0;
  for (const Device& device : kDevices) {
    view.loaded = true;
    EXPECT_TRUE(touch::shows(seen(view, device, {}), "Everything is sealed."));
    view.loaded = false;
    EXPECT_FALSE(touch::shows(seen(view, device, {}), "sealed"));
  }
}

TEST_F(CardTaps, OwnScoresHaveTheirNamesOffTheCardToo) {
  flow::ReviewView review = review_stand();
  review.measures.emplace_back("texture");
  review.own_names["texture"] = "Leaf texture";
  EXPECT_EQ(
      only<flow::ReviewMeasure>(tap(review, "Measures/Leaf texture", {}, kDevices[4])).measure,
      "texture");
  flow::TodayView today = busy_today();
  today.due[1].name.measures.emplace_back("texture");
  today.due[1].name.own_names["texture"] = "Leaf texture";
  EXPECT_TRUE(touch::shows(seen(today, kDevices[4]), "Leaf texture"));
  EXPECT_FALSE(touch::shows(seen(today, kDevices[4]), ", texture"));
  flow::DaysEndView day = days_end_open();
  day.rows.front().on_hold = {{"101", "texture", ""}};
  day.rows.front().own_names["texture"] = "Leaf texture";
  EXPECT_TRUE(touch::shows(seen(day, kDevices[4]), "Leaf texture"));
  flow::Overlay question = question_overlay();
  question.question->measure = "texture";
  question.question->own_names["texture"] = "Leaf texture";
  EXPECT_TRUE(touch::shows(seen(sample_rate(0), kDevices[4], {}, question), "Leaf texture"));
}

TEST_F(Taps, TheScalesPortIsChosen) {
  const auto port = only<flow::Choose>(tap(scale_setup(false), "usb-two"));
  EXPECT_EQ(port.what, flow::Preference::kScalePort);
  EXPECT_EQ(port.code, "/dev/serial/by-id/usb-two");
  only<flow::ShowTablet>(tap(scale_setup(true), "Back"));
  only<flow::ShowTablet>(tap(tablet_cautions(), "Back"));
}

// Proves: on a plot that is rated the way on is one key, not a search along the stakes.
TEST_F(CardTaps, ARatedPlotOffersTheNextOpenOne) {
  for (const Device& device : kDevices) {
    flow::RateView view = sample_rate(std::nullopt);
    view.next_open = "212";
    EXPECT_EQ(only<flow::GoToPlot>(tap(view, "Next open plot: 212", {}, device)).plot, "212");
    view.closed = true;
    EXPECT_TRUE(touch::find(seen(view, device), "Next open plot: 212").empty()) << device.name;
    view.closed = false;
    view.all_done = true;
    EXPECT_TRUE(touch::find(seen(view, device), "Next open plot: 212").empty()) << device.name;
  }
}

}  // namespace
}  // namespace ligule::screens
