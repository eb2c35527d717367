#include "app/touch/register.h"

#include <gmock/gmock.h>

namespace ligule::touch {
namespace {

using testing::ElementsAre;
using testing::HasSubstr;
using testing::IsEmpty;

constexpr Rect kWindow{0, 0, 1280, 800};

Widget key_at(std::string label, Rect drawn, std::string group = {}) {
  Widget widget;
  widget.label = std::move(label);
  widget.group = std::move(group);
  widget.kind = Kind::kKey;
  widget.drawn = widget.touch = drawn;
  widget.clip = kWindow;
  return widget;
}

Register screen(std::vector<Widget> widgets) {
  Register seen;
  seen.widgets = std::move(widgets);
  seen.window = {1280, 800};
  seen.ppi = 254;  // ten pixels a millimetre
  return seen;
}

TEST(Find, TakesTheWholeLabelOnly) {
  const auto seen = screen({key_at("Next plot", {0, 0, 200, 200})});
  EXPECT_EQ(find(seen, "Next plot").size(), 1U);
  EXPECT_TRUE(find(seen, "Next").empty());
}

TEST(Find, GroupNarrowsByItsEnd) {
  const auto seen = screen(
      {key_at("5", {0, 0, 200, 200}, "Rate/Vigor"), key_at("5", {300, 0, 500, 200}, "Rate/Stand")});
  EXPECT_EQ(find(seen, "5").size(), 2U);
  ASSERT_EQ(find(seen, "Vigor/5").size(), 1U);
  EXPECT_EQ(find(seen, "Rate/Vigor/5").size(), 1U);
  EXPECT_TRUE(find(seen, "igor/5").empty());
}

TEST(Find, LabelMayHoldASlash) {
  const auto seen = screen({key_at("lb/acre", {0, 0, 200, 200}, "Units")});
  EXPECT_EQ(find(seen, "lb/acre").size(), 1U);
  EXPECT_EQ(find(seen, "Units/lb/acre").size(), 1U);
}

TEST(Find, LeavesOutWhatCannotBeTapped) {
  auto off = key_at("Off", {0, 0, 200, 200});
  off.enabled = false;
  auto covered = key_at("Covered", {0, 0, 200, 200});
  covered.covered = true;
  auto scrolled = key_at("Scrolled", {0, 700, 200, 900});
  scrolled.clip = {0, 0, 1280, 790};
  auto words = key_at("Words", {0, 0, 200, 200});
  words.kind = Kind::kText;
  const auto seen = screen({off, covered, scrolled, words});
  for (const char* label : {"Off", "Covered", "Scrolled", "Words"})
    EXPECT_TRUE(find(seen, label).empty()) << label;
}

TEST(Shows, FindsPartOfAVisibleTextOrValue) {
  auto field = key_at("Bag weight", {0, 0, 200, 200});
  field.value = "12.4";
  const auto seen = screen({field});
  EXPECT_TRUE(shows(seen, "weight"));
  EXPECT_TRUE(shows(seen, "12.4"));
  EXPECT_FALSE(shows(seen, "Tare"));
}

TEST(GeometryFaults, NoneOnAGoodScreen) {
  EXPECT_THAT(
      geometry_faults(screen({key_at("A", {0, 0, 200, 200}), key_at("B", {230, 0, 430, 200})})),
      IsEmpty());
}

TEST(GeometryFaults, NameEachFault) {
  EXPECT_THAT(geometry_faults(screen({key_at("A", {0, 0, 110, 200})})),
              ElementsAre(HasSubstr("answers on 11.0 mm")));
  auto primary = key_at("A", {0, 0, 190, 200});
  primary.primary = true;
  EXPECT_THAT(geometry_faults(screen({primary})), ElementsAre(HasSubstr("is drawn 19.0 mm")));
  EXPECT_THAT(
      geometry_faults(screen({key_at("A", {0, 0, 200, 200}), key_at("B", {190, 0, 400, 200})})),
      ElementsAre("key \"A\" and key \"B\" overlap"));
  EXPECT_THAT(geometry_faults(screen({key_at("A", {1200, 0, 1400, 200})})),
              ElementsAre(HasSubstr("leaves the window")));
  auto cut = key_at("A very lo\xE2\x80\xA6", {0, 0, 200, 200});
  cut.kind = Kind::kText;
  cut.cut = true;
  EXPECT_THAT(geometry_faults(screen({cut})), ElementsAre(HasSubstr("is shortened")));
  auto outside = key_at("A", {0, 700, 200, 900});
  outside.clip = {0, 0, 1280, 900};
  EXPECT_THAT(geometry_faults(screen({outside})),
              ElementsAre(HasSubstr("a part that leaves the window")));
  auto seen = screen({});
  seen.no_room = {"Keep"};
  EXPECT_THAT(geometry_faults(seen), ElementsAre("no room for \"Keep\""));
}

// Proves: only what can be dragged into view may be half out of it.
TEST(GeometryFaults, WhatAScrolledPartCutsForGoodIsAFault) {
  auto last = key_at("Last", {0, 700, 200, 900});
  last.clip = {0, 300, 1280, 790};
  auto wide = key_at("Wide", {0, 400, 200, 600});
  wide.clip = {0, 300, 150, 790};
  const auto faults = [&](const Widget& widget) {
    Register seen = screen({widget});
    seen.scrollers = {{"list", widget.clip, false, 0}};
    return geometry_faults(seen);
  };
  EXPECT_THAT(faults(last), IsEmpty());
  EXPECT_THAT(faults(wide), ElementsAre(HasSubstr("is cut by the edge")));
  auto stake = key_at("214", {0, 400, 200, 600});
  stake.clip = {0, 420, 1280, 790};
  Register seen = screen({stake});
  seen.scrollers = {{"lane", stake.clip, true, 0}};
  EXPECT_THAT(geometry_faults(seen), ElementsAre(HasSubstr("is cut by the edge")));
}

TEST(GeometryFaults, PanelsMayCoverWhatLiesBeneath) {
  auto panel = key_at("Yes", {0, 0, 200, 200});
  panel.layer = 1;
  EXPECT_THAT(geometry_faults(screen({key_at("A", {0, 0, 200, 200}), panel})), IsEmpty());
}

TEST(KindName, NamesEveryKind) {
  EXPECT_EQ(kind_name(Kind::kText), "text");
  EXPECT_EQ(kind_name(Kind::kShape), "shape");
}

TEST(GeometryFaults, RatingKeysKeepTheirSizeAndDistanceAlsoForGloves) {
  auto one = key_at("1", {0, 0, 250, 250});
  auto two = key_at("2", {285, 0, 535, 250});
  one.primary = two.primary = true;
  Register seen = screen({one, two});
  EXPECT_THAT(geometry_faults(seen), IsEmpty());
  seen.gap_mm = 4;
  EXPECT_THAT(geometry_faults(seen), ElementsAre(HasSubstr("stand 3.5 mm apart")));
  seen.widgets[1].drawn = seen.widgets[1].touch = {290, 0, 540, 250};
  seen.key_mm = 25.5;
  EXPECT_THAT(geometry_faults(seen),
              ElementsAre(HasSubstr("is drawn 25.0 mm"), HasSubstr("is drawn 25.0 mm")));
}

TEST(GeometryFaults, TheValueBeingEnteredIsSevenMillimetresHigh) {
  auto field = key_at("Gross", {0, 0, 250, 250});
  field.value_mm = 7.2;
  EXPECT_THAT(geometry_faults(screen({field})), IsEmpty());
  field.value_mm = 5.4;
  EXPECT_THAT(geometry_faults(screen({field})), ElementsAre(HasSubstr("the value being entered")));
}

}  // namespace
}  // namespace ligule::touch
