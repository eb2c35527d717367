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

std::string name_of_tablet(const testing::TestParamInfo<Device>& tablet) {
  std::string name(tablet.param.name);
  std::ranges::replace(name, '-', '_');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Tablets, Sizes, testing::ValuesIn(kDevices), name_of_tablet);

}  // namespace
}  // namespace ligule::screens
