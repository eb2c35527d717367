// What must be read and hit on every tablet: the value being entered, titles, initials, notices,
// and the tiles that gloves leave room for.
#include <gmock/gmock.h>

#include <algorithm>

#include "tests/app/screens/scenes.h"
#include "tests/app/screens/taps_fixture.h"

namespace ligule::screens {
namespace {

using namespace tests;  // the samples of this folder

class Sizes : public testing::TestWithParam<Device> {
 protected:
  const touch::Register& show(const flow::View& view, const flow::Overlay& overlay = {},
                              const touch::Look& look = {}, const Language& words = english()) {
    glass_.reset();  // one at a time draws
    glass_ = std::make_unique<Glass>(GetParam(), look);
    view_ = view;
    overlay_ = overlay;
    words_ = &words;
    return glass_->show(
        [this](touch::Ui& ui) { draw(ui, *words_, view_, overlay_, scratch_, out_); });
  }
  void tap(std::string_view label) {
    glass_->tap(label,
                [this](touch::Ui& ui) { draw(ui, *words_, view_, overlay_, scratch_, out_); });
  }

  std::unique_ptr<Glass> glass_;
  flow::View view_;
  flow::Overlay overlay_;
  const Language* words_ = nullptr;
  Scratch scratch_;
  std::vector<flow::Intent> out_;
};

bool shows_current_value(const touch::Register& seen) {
  return std::ranges::any_of(seen.widgets, [](const touch::Widget& widget) {
    return touch::visible(widget) && widget.value_mm >= 7;
  });
}

// Proves: a card or form that holds a value to be entered shows it 7 mm high somewhere. That
// nothing which says it is that value is smaller is asked of every scene by geometry_faults().
TEST_P(Sizes, TheValueBeingEnteredStandsSevenMillimetresHigh) {
  flow::RateView stand = sample_rate(1);
  stand.focus = 0;  // rated before, and looked at again
  for (const touch::Look& look :
       {touch::Look{}, touch::Look{.gloves = true}, touch::Look{.large_text = true},
        touch::Look{.gloves = true, .large_text = true}}) {
    for (const flow::View& view :
         {flow::View{stand}, flow::View{long_names_rate()}, flow::View{sample_rate(3)},
          flow::View{height_rate(false)}, flow::View{height_rate(true)},
          flow::View{cover_full_rate()}, flow::View{counts_rate(false)},
          flow::View{frame_rate(false)}, flow::View{weighing(flow::Field::kGross)},
          flow::View{weighing(flow::Field::kTare)}, flow::View{run_head(false)},
          flow::View{dry_weighing()}, flow::View{mend_amount()}})
      EXPECT_TRUE(shows_current_value(show(view, {}, look)))
          << GetParam().name << " view " << view.index() << " gloves " << look.gloves << " large "
          << look.large_text;
  }
}

// Proves: every rating and number key stands in the size the look promises: none says it is none.
TEST_P(Sizes, GlovesGetTilesAndNumbersOfTheirSize) {
  for (const flow::View& view :
       {flow::View{sample_rate(0)}, flow::View{sample_rate(1)}, flow::View{sample_rate(2)},
        flow::View{sample_rate(3)}, flow::View{height_rate(false)}, flow::View{cover_rate()},
        flow::View{counts_rate(false)}, flow::View{weighing(flow::Field::kGross)},
        flow::View{dry_weighing()}, flow::View{mend_amount()}, flow::View{stake_number_rate()}}) {
    const auto& seen = show(view, {}, {.gloves = true});
    EXPECT_THAT(touch::geometry_faults(seen), testing::IsEmpty()) << GetParam().name;
    EXPECT_EQ(seen.key_mm, 25);
    EXPECT_EQ(seen.gap_mm, 4);
    EXPECT_GE(std::ranges::count_if(seen.widgets, &touch::Widget::primary), 5) << GetParam().name;
  }
}

// Proves: with gloves a stand of 50 and more costs one tap, one below two, and the next plot begins
// with the upper half again, whatever was tapped before.
TEST_P(Sizes, EveryPercentIsReachedWithGloves) {
  show(sample_rate(0), {}, {.gloves = true});
  for (int percent = 50; percent <= 100; percent += 5)
    EXPECT_EQ(touch::find(glass_->seen(), "Stand/" + std::to_string(percent)).size(), 1U);
  if (touch::find(glass_->seen(), "Stand/0-45").empty()) {
    EXPECT_EQ(touch::find(glass_->seen(), "Stand/35").size(), 1U) << "all on one page";
    return;
  }
  tap("Stand/0-45");
  EXPECT_TRUE(out_.empty());
  tap("Stand/35");
  ASSERT_EQ(out_.size(), 1U);
  EXPECT_EQ(std::get<flow::ChooseValue>(out_.front()).entered, "35");
  auto next = std::get<flow::RateView>(view_);
  next.plot = "215";
  view_ = next;
  glass_->show([this](touch::Ui& ui) { draw(ui, *words_, view_, overlay_, scratch_, out_); });
  EXPECT_EQ(touch::find(glass_->seen(), "Stand/85").size(), 1U);
  // And back on the plot: a value is no reason to begin elsewhere.
  view_ = sample_rate(0);
  glass_->show([this](touch::Ui& ui) { draw(ui, *words_, view_, overlay_, scratch_, out_); });
  EXPECT_EQ(touch::find(glass_->seen(), "Stand/85").size(), 1U);
}

const touch::Widget* text_of(const touch::Register& seen, std::string_view words) {
  const auto found = std::ranges::find_if(seen.widgets, [&](const touch::Widget& widget) {
    return widget.kind == touch::Kind::kText && widget.label == words;
  });
  return found == seen.widgets.end() ? nullptr : &*found;
}

// Proves: large text never makes a title smaller than it was.
TEST_P(Sizes, LargeTextShrinksNoTitle) {
  for (const Language* words : {&english(), &spanish()})
    for (const auto& [view, key] : {std::pair{flow::View{busy_today()}, "today.title"},
                                    std::pair{flow::View{dry_many()}, "dry.title"},
                                    std::pair{flow::View{days_end_open()}, "days_end.title"},
                                    std::pair{flow::View{review_stand()}, "review.title"},
                                    std::pair{flow::View{trials_list()}, "trials.title"}}) {
      const std::string title((*words)(key));
      const touch::Widget* const usual = text_of(show(view, {}, {}, *words), title);
      ASSERT_NE(usual, nullptr) << title;
      const float height = usual->drawn.height();
      const touch::Widget* const large =
          text_of(show(view, {}, {.large_text = true}, *words), title);
      ASSERT_NE(large, nullptr) << title;
      EXPECT_GE(large->drawn.height(), height - 0.5F) << title << " on " << GetParam().name;
    }
}

// Proves: a title as long as a program's own words make it stands whole, and so do the initials.
TEST_P(Sizes, NoTitleIsCutAndTheInitialsStayBesideIt) {
  flow::ReviewView own = mend_stage();
  auto& mend = std::get<flow::MendView>(own.page);
  own.own_names["leaf_texture"] = "Leaf texture";
  mend.measure = "leaf_texture";
  mend.plot = "B2214";
  flow::RateView note = note_rate();
  note.note->plot = "B2214";
  for (const Language* words : {&english(), &spanish()})
    for (const touch::Look& look :
         {touch::Look{}, touch::Look{.large_text = true}, touch::Look{.gloves = true}})
      for (const flow::View& view : {flow::View{own}, flow::View{note}, flow::View{plan_checked()},
                                     flow::View{dry_many()}, flow::View{busy_today()}}) {
        const auto& seen = show(view, {}, look, *words);
        EXPECT_THAT(touch::geometry_faults(seen), testing::IsEmpty())
            << GetParam().name << " view " << view.index();
        EXPECT_EQ(touch::find(seen, "Hand over/KV").size(), 1U)
            << GetParam().name << " view " << view.index() << " large " << look.large_text;
      }
}

// Proves: why something was refused stands whole, however long, and is put away by one tap.
TEST_P(Sizes, ANoticeStandsWhole) {
  for (const touch::Look& look :
       {touch::Look{}, touch::Look{.large_text = true}, touch::Look{.gloves = true}})
    for (const flow::View& view :
         {flow::View{sample_rate(0)}, flow::View{weighing(flow::Field::kGross)},
          flow::View{dry_many()}, flow::View{busy_today()}, flow::View{tablet_view()},
          flow::View{sample_sign_in(5)}}) {
      out_.clear();
      const auto& seen = show(view, long_notice_overlay(), look);
      EXPECT_THAT(touch::geometry_faults(seen), testing::IsEmpty()) << GetParam().name;
      EXPECT_TRUE(touch::shows(seen, "nothing of what was recorded is lost")) << GetParam().name;
      EXPECT_TRUE(touch::shows(seen, "evening.zip")) << GetParam().name;
      tap("Put away");
      ASSERT_EQ(out_.size(), 1U);
      EXPECT_TRUE(std::holds_alternative<flow::DismissNotice>(out_.front()));
    }
}

// Proves: what was given last can be taken back while a refusal is still told.
TEST_P(Sizes, ARefusalLeavesTakeBack) {
  for (const touch::Look& look :
       {touch::Look{}, touch::Look{.gloves = true}, touch::Look{.large_text = true}})
    for (const flow::View& view :
         {flow::View{sample_rate(0)}, flow::View{weighing(flow::Field::kGross)}}) {
      const auto& seen = show(view, notice_overlay(), look);
      EXPECT_EQ(touch::find(seen, "Put away").size(), 1U) << GetParam().name;
      EXPECT_EQ(touch::find(seen, "Take back").size(), 1U)
          << GetParam().name << " view " << view.index() << " gloves " << look.gloves;
    }
}

// Proves: a map of many columns of long weights shows every one of them.
TEST_P(Sizes, AWideMapLosesNoNumber) {
  for (const touch::Look& look : {touch::Look{}, touch::Look{.large_text = true}}) {
    const auto& seen = show(review_wide(), {}, look);
    const flow::ReviewView wide = review_wide();
    const auto& map = std::get<flow::MapView>(wide.page);
    EXPECT_EQ(static_cast<std::size_t>(std::ranges::count_if(seen.widgets,
                                                             [](const touch::Widget& widget) {
                                                               return widget.kind ==
                                                                          touch::Kind::kText &&
                                                                      widget.label == "112.48";
                                                             })),
              map.cells.size())
        << GetParam().name;
  }
}

std::vector<touch::Look> every_look() {
  std::vector<touch::Look> looks;
  for (const bool gloves : {false, true})
    for (const bool large : {false, true})
      for (const touch::Hand hand : {touch::Hand::kRight, touch::Hand::kLeft})
        looks.push_back({.gloves = gloves, .large_text = large, .hand = hand});
  return looks;
}

std::string told(const Device& tablet, const touch::Look& look) {
  return std::string(tablet.name) + (look.gloves ? " gloves" : "") +
         (look.large_text ? " large" : "") + (look.hand == touch::Hand::kLeft ? " left" : "");
}

// Cards on which a plot is worked on: its number, and the way from plot to plot.
std::vector<flow::View> cards() {
  return {sample_rate(0),
          sample_rate(1),
          sample_rate(2),
          sample_rate(3),
          named_rate(0),
          broadcast_rate(),
          long_names_rate(),
          low_rate(),
          height_rate(false),
          counts_rate(false),
          frame_rate(false),
          frame_rate(true),
          cover_full_rate(),
          heading_rate(24),
          finished_rate(),
          fine_rate(),
          weighing(flow::Field::kGross),
          weighing_done(),
          more_weighing()};
}

std::string plot_of(const flow::View& view) {
  if (const auto* const rate = std::get_if<flow::RateView>(&view)) return rate->plot;
  return std::get<flow::WeighingView>(std::get<flow::HarvestView>(view).step).plot;
}

// Proves: the number of the plot stands 7 mm high and more, whatever the text, the hand, the keys.
TEST_P(Sizes, ThePlotNumberStandsSevenMillimetresHigh) {
  for (const Language* words : {&english(), &spanish()})
    for (const touch::Look& look : every_look())
      for (const flow::View& view : cards()) {
        const auto& seen = show(view, {}, look, *words);
        const std::string plot = plot_of(view);
        EXPECT_TRUE(std::ranges::any_of(seen.widgets,
                                        [&](const touch::Widget& widget) {
                                          return widget.kind == touch::Kind::kText &&
                                                 widget.label == plot && touch::visible(widget) &&
                                                 widget.value_mm >= 7;
                                        }))
            << told(GetParam(), look) << " plot " << plot << " view " << view.index();
      }
}

// Proves: what can be tapped on the lane is a whole stake of 12 mm and more with its whole number,
// and the plot before is one tap away.
TEST_P(Sizes, EveryStakeIsWholeAndTheOneBeforeIsThere) {
  for (const touch::Look& look : every_look())
    for (const flow::View& view : cards()) {
      const auto& seen = show(view, {}, look);
      std::size_t shown = 0;
      for (const touch::Widget& widget : seen.widgets) {
        if (widget.kind != touch::Kind::kStake) continue;
        ++shown;
        const touch::Rect part = touch::visible_part(widget);
        EXPECT_NEAR(part.area(), widget.drawn.area(), part.height())
            << told(GetParam(), look) << " " << widget.label;
        EXPECT_GE(static_cast<double>(part.width()), 12 * GetParam().ppi / 25.4);
      }
      const auto* const rate = std::get_if<flow::RateView>(&view);
      if (rate == nullptr || rate->lane.empty()) continue;
      EXPECT_GE(shown, rate->plot.size() > 4 ? 1U : 2U) << told(GetParam(), look);
      const std::size_t before = rate->present == 0 ? 0 : rate->present - 1;
      EXPECT_EQ(touch::find(seen, "lane/" + rate->lane[before].plot).size(), 1U)
          << told(GetParam(), look);
    }
}

// Proves: cells of a frame are rating keys where the glass has room for five side by side, and
// nearly so elsewhere: 8 in of glass are 107 mm, 10 in 135 mm, five keys for gloves 141 mm.
TEST_P(Sizes, TheCellsOfAFrameAreRatingKeysWhereTheyFit) {
  const bool small = GetParam().name.starts_with("8in");
  const bool large = GetParam().name.starts_with("12in");
  for (const Language* words : {&english(), &spanish()})
    for (const touch::Look& look : every_look()) {
      const auto& seen = show(frame_rate(false), {}, look, *words);
      EXPECT_THAT(touch::geometry_faults(seen), testing::IsEmpty()) << told(GetParam(), look);
      const bool fits = look.gloves ? large : !small;
      const double least = fits ? seen.key_mm : look.gloves && !small ? 22 : 17;
      int cells = 0;
      for (const touch::Widget& widget : seen.widgets) {
        if (widget.kind != touch::Kind::kKey || !widget.group.ends_with("/Frame") ||
            widget.label.find_first_not_of("0123456789") == 0)
          continue;
        ++cells;
        EXPECT_EQ(widget.primary, fits) << told(GetParam(), look);
        EXPECT_GE(static_cast<double>(std::min(widget.drawn.width(), widget.drawn.height())),
                  least * GetParam().ppi / 25.4 - 0.75)
            << told(GetParam(), look);
      }
      EXPECT_EQ(cells, 25);
    }
}

// Proves: the reasons, one of which must be tapped, are in view whole whatever else has to scroll.
TEST_P(Sizes, EveryReasonOfACorrectionIsInView) {
  for (const Language* words : {&english(), &spanish()})
    for (const touch::Look& look : every_look())
      for (const flow::ReviewView& view : {mend_amount(), mend_stage(), mend_conflict()}) {
        const auto& seen = show(view, {}, look, *words);
        EXPECT_THAT(touch::geometry_faults(seen), testing::IsEmpty()) << told(GetParam(), look);
        std::size_t reasons = 0;
        for (const touch::Widget& widget : seen.widgets) {
          if (!widget.group.ends_with("/Why") || !touch::tappable(widget.kind)) continue;
          ++reasons;
          EXPECT_EQ(touch::visible_part(widget), widget.drawn)
              << told(GetParam(), look) << " " << widget.label;
        }
        EXPECT_EQ(reasons, std::get<flow::MendView>(view.page).reasons.size());
      }
}

// Where the digits 1 to 9 stand: row by row.
std::vector<std::string> rows_of_digits(const touch::Register& seen) {
  std::vector<const touch::Widget*> digits;
  for (const touch::Widget& widget : seen.widgets)
    if (widget.kind == touch::Kind::kKey && widget.primary && widget.label.size() == 1 &&
        widget.label[0] >= '1' && widget.label[0] <= '9')
      digits.push_back(&widget);
  std::ranges::sort(digits, [](const touch::Widget* a, const touch::Widget* b) {
    return std::abs(a->drawn.top - b->drawn.top) > 1 ? a->drawn.top < b->drawn.top
                                                     : a->drawn.left < b->drawn.left;
  });
  std::vector<std::string> rows;
  float top = -1;
  for (const touch::Widget* const digit : digits) {
    if (rows.empty() || std::abs(digit->drawn.top - top) > 1) rows.emplace_back();
    top = digit->drawn.top;
    rows.back() += digit->label;
  }
  return rows;
}

// Proves: digits stand in one order wherever numbers are tapped; three rows of four only for gloves
// on 8 in lying, where four rows of 25 mm do not fit.
TEST_P(Sizes, DigitsStandInOneOrder) {
  for (const touch::Look& look : every_look())
    for (const flow::View& view :
         {flow::View{height_rate(false)}, flow::View{height_rate(true)},
          flow::View{stake_number_rate()}, flow::View{weighing(flow::Field::kGross)},
          flow::View{dry_weighing()}, flow::View{mend_amount()},
          flow::View{check_weighing(true)}}) {
      const auto rows = rows_of_digits(show(view, {}, look));
      const bool low = look.gloves && GetParam().name == "8in";
      const std::vector<std::string> wanted = low ? std::vector<std::string>{"1234", "5678", "9"}
                                                  : std::vector<std::string>{"123", "456", "789"};
      EXPECT_EQ(rows, wanted) << told(GetParam(), look) << " view " << view.index();
    }
}

// Proves: what a plot really holds is chosen among keys beside each other, on narrow glass too, as
// wide for the longest words as for the others.
TEST_P(Sizes, WhatAPlotHoldsIsChosenAmongKeysBesideEachOther) {
  for (const Language* const words : {&english(), &spanish()}) {
    const auto& seen = show(sown_form(false), {}, {}, *words);
    const auto key = [&](const char* status) {
      const auto found = touch::find(seen, "Status/" + std::string((*words)(status)));
      EXPECT_EQ(found.size(), 1U) << status;
      return found.empty() ? touch::Rect{} : found.front()->drawn;
    };
    EXPECT_EQ(key("sown.as_planned").top, key("sown.exchanged").top) << GetParam().name;
    EXPECT_LT(key("sown.as_planned").right, key("sown.exchanged").left) << GetParam().name;
    EXPECT_NEAR(key("sown.abandoned").width(), key("sown.as_planned").width(), 0.5)
        << GetParam().name;
  }
}

std::string name_of_size(const testing::TestParamInfo<Device>& tablet) {
  std::string name(tablet.param.name);
  std::ranges::replace(name, '-', '_');
  return name;
}
// Proves: however much a stick holds, in whatever language and size of text, its key is seen as the
// screen opens.
TEST_P(Sizes, WhatAStickBringsIsLoadedWithoutDragging) {
  for (const Language* const words : {&english(), &spanish()})
    for (const touch::Look& look :
         {touch::Look{}, touch::Look{.large_text = true},
          touch::Look{.gloves = true, .large_text = true, .hand = touch::Hand::kLeft}}) {
      const std::string load("Stick/" + std::string((*words)("stick.load")));
      for (const flow::View& view :
           {flow::View{stick_today(false)}, flow::View{stick_today(true)}}) {
        const auto found = touch::find(show(view, {}, look, *words), load);
        ASSERT_EQ(found.size(), 1U);
        EXPECT_EQ(touch::visible_part(*found.front()), found.front()->drawn) << GetParam().name;
      }
      const std::string see("Stick/" + std::string((*words)("stick.look")));
      const auto found = touch::find(show(stick_trials(), {}, look, *words), see);
      ASSERT_EQ(found.size(), 1U);
      EXPECT_EQ(touch::visible_part(*found.front()), found.front()->drawn) << GetParam().name;
    }
}

INSTANTIATE_TEST_SUITE_P(Tablets, Sizes, testing::ValuesIn(kDevices), name_of_size);

}  // namespace
}  // namespace ligule::screens
