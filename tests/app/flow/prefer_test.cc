// What people choose of the tablet's look, and the Tablet screen.
#include <algorithm>
#include <cmath>

#include "app/flow/book.h"
#include "tests/app/flow/tablet.h"

namespace ligule::flow {
namespace {

using ::testing::ElementsAre;

class Prefer : public ::testing::Test {
 protected:
  Prefer() {
    PreferencesRead read;
    read.languages = {{"en", "English"}, {"es", "Español"}};
    read.display = {189, 1280, 800};
    tablet.tap(std::move(read));
    hand_to("AB");
  }

  void choose(Preference what, std::string code) {
    tablet.tap(Choose{what, std::move(code)});
    tablet.settle();
  }
  void hand_to(const std::string& initials) {
    tablet.tap(HandOver{});
    tablet.sign_in(initials);
    tablet.settle();
  }
  TabletView view() { return std::get<TabletView>(view_of(tablet.model)); }
  std::vector<std::string> selected() {
    std::vector<std::string> codes;
    for (const PreferenceView& row : view().preferences)
      for (const OptionView& option : row.options)
        if (option.selected) codes.push_back(option.code);
    return codes;
  }
  LookView look() { return look_of(tablet.model); }
  std::string stubble_unit() {
    tablet.open(grass_plan(), "stand");
    const RateView rate = tablet.rate();
    return std::ranges::find(rate.measures, "stubble_height", &MeasureView::measure)->unit;
  }

  Tablet tablet;
};

TEST_F(Prefer, NothingChosenIsTheUsual) {
  tablet.tap(ShowTablet{});
  EXPECT_EQ(look(), (LookView{"en", false, false, false, false, 189}));
  EXPECT_THAT(selected(), ElementsAre("en", "paper", "right", "bare", "usual", "lb", "in", "off"));
}

TEST_F(Prefer, AChoiceHoldsAtOnceAndIsStored) {
  tablet.tap(ShowTablet{});
  choose(Preference::kLanguage, "es");
  choose(Preference::kTheme, "dusk");
  choose(Preference::kHand, "left");
  choose(Preference::kGloves, "gloves");
  choose(Preference::kText, "large");
  choose(Preference::kMass, "kg");
  choose(Preference::kLength, "cm");
  EXPECT_THAT(selected(), ElementsAre("es", "dusk", "left", "gloves", "large", "kg", "cm", "off"));
  EXPECT_EQ(look(), (LookView{"es", true, true, true, true, 189}));
  ASSERT_TRUE(tablet.stored);
  EXPECT_EQ(*tablet.stored, tablet.model.preferences);
  choose(Preference::kHand, "right");
  EXPECT_FALSE(look().left_handed);
  EXPECT_EQ(*tablet.stored, tablet.model.preferences);
}

TEST_F(Prefer, WhatStandsAlreadyIsNotWrittenAgain) {
  tablet.tap(ShowTablet{});
  tablet.settle();
  EXPECT_TRUE(tablet.tap(Choose{Preference::kTheme, "paper"}).empty());
  EXPECT_TRUE(tablet.tap(Choose{Preference::kLanguage, "en"}).empty());
}

TEST_F(Prefer, CodesNobodyKnowsChangeNothing) {
  const Preferences before = tablet.model.preferences;
  for (const Preference what :
       {Preference::kLanguage, Preference::kTheme, Preference::kHand, Preference::kGloves,
        Preference::kText, Preference::kMass, Preference::kLength})
    EXPECT_TRUE(tablet.tap(Choose{what, "xx"}).empty());
  EXPECT_EQ(tablet.model.preferences, before);
}

TEST_F(Prefer, ThePersonsChoicesComeBackWithThePersonAndTheTabletsStay) {
  choose(Preference::kLanguage, "es");
  choose(Preference::kHand, "left");
  choose(Preference::kGloves, "gloves");
  choose(Preference::kTheme, "dusk");
  tablet.tap(HandOver{});
  EXPECT_EQ(look().language, "es") << "nobody holds it: as the last person had it";
  tablet.sign_in("CD");
  tablet.settle();
  // New here: the crew's language and gloves, but hands and eyes of their own.
  EXPECT_EQ(look(), (LookView{"es", true, false, true, false, 189}));
  choose(Preference::kLanguage, "en");
  choose(Preference::kGloves, "bare");
  choose(Preference::kTheme, "paper");
  hand_to("AB");
  EXPECT_EQ(look(), (LookView{"es", false, true, true, false, 189}));
  hand_to("CD");
  EXPECT_EQ(look(), (LookView{"en", false, false, false, false, 189}));
  EXPECT_EQ(*tablet.stored, tablet.model.preferences);
}

TEST_F(Prefer, WhoCannotReadItChangesTheLanguageBeforeSigningIn) {
  tablet.tap(HandOver{});
  const auto sign_in = std::get<SignInView>(view_of(tablet.model));
  ASSERT_EQ(sign_in.languages.size(), 2U);
  EXPECT_EQ(sign_in.languages[1], (OptionView{"es", "Español", false}));
  choose(Preference::kLanguage, "es");
  EXPECT_EQ(look().language, "es");
  tablet.sign_in("EF");
  EXPECT_EQ(look().language, "es") << "somebody new keeps it";
  hand_to("AB");
  EXPECT_EQ(look().language, "en") << "who is known has their own";
}

TEST_F(Prefer, UnitsFollowThePersonWhereTheScaleTakesBoth) {
  EXPECT_EQ(stubble_unit(), "in");
  choose(Preference::kLength, "cm");
  EXPECT_EQ(stubble_unit(), "cm");
  tablet.choose("stubble_height", "8");
  tablet.settle();
  EXPECT_EQ(tablet.ledger.back().unit, "cm");
  hand_to("CD");
  choose(Preference::kLength, "in");
  hand_to("AB");
  EXPECT_EQ(stubble_unit(), "cm");
}

TEST_F(Prefer, PlotWeightsFollowThePersonAndSampleBagsStayInGrams) {
  choose(Preference::kMass, "kg");
  const Definitions& definitions = tablet.model.setup.definitions;
  const auto unit = [&](std::string_view measure, const char* scale) {
    return unit_of(tablet.model.setup, measure, *definitions.scale(scale));
  };
  EXPECT_EQ(unit(measure::kGrossWeight, "plot_weight"), "kg");
  EXPECT_EQ(unit(measure::kSampleFresh, "sample_weight"), "g");
}

TEST_F(Prefer, AFullDiskIsSaidAndTheChoiceHoldsForNow) {
  tablet.break_disk(true);
  choose(Preference::kTheme, "dusk");
  EXPECT_EQ(tablet.notice(), "notice.preferences_not_kept");
  EXPECT_TRUE(look().dusk);
  EXPECT_FALSE(tablet.stored.has_value() && tablet.stored->dusk);
}

TEST_F(Prefer, AFileThatCannotBeReadIsSaid) {
  PreferencesRead read;
  read.error = Error{ErrorKind::kInvalid, "no file of preferences", "a.preferences", ""};
  tablet.tap(std::move(read));
  EXPECT_EQ(tablet.notice(), "notice.preferences_lost");
  EXPECT_EQ(look().language, "en");
}

// --- the size of the glass

TEST_F(Prefer, TheBarIsAsLongAsABankCard) {
  tablet.tap(ShowTablet{});
  tablet.tap(MeasureGlass{});
  // ISO/IEC 7810, ID-1: 85.60 mm wide.
  EXPECT_NEAR(view().glass->bar_px, 85.60 / 25.4 * 189, 1e-9);
  tablet.tap(StepGlass{1});
  EXPECT_NEAR(view().glass->bar_px * 25.4 / 189, 85.60 + 0.2, 0.02) << "0.2 mm longer";
  tablet.tap(StepGlass{-1});
  EXPECT_NEAR(view().glass->bar_px, 85.60 / 25.4 * 189, 1e-9) << "and back to where it was";
}

TEST_F(Prefer, TheMeasuredSizeHoldsEverywhereUntilTheDisplaysOwnIsTaken) {
  tablet.tap(ShowTablet{});
  tablet.tap(MeasureGlass{});
  tablet.tap(StepGlass{-16});
  EXPECT_EQ(look().ppi, 189) << "nothing changes size while the bar is being set";
  tablet.tap(KeepGlass{});
  tablet.settle();
  EXPECT_NEAR(look().ppi, 189 / std::pow(1.0025, 16), 0.05);
  EXPECT_TRUE(view().glass_measured);
  EXPECT_FALSE(view().glass);
  EXPECT_EQ(tablet.stored->ppi, tablet.model.preferences.ppi);
  tablet.tap(HandOver{});
  EXPECT_LT(look().ppi, 185) << "it is the tablet's";
  tablet.sign_in("AB");
  tablet.tap(ShowTablet{});
  tablet.tap(OwnGlass{});
  tablet.settle();
  EXPECT_EQ(look().ppi, 189);
  EXPECT_FALSE(tablet.stored->ppi.has_value());
}

TEST_F(Prefer, LeavingTheBarChangesNothing) {
  tablet.tap(ShowTablet{});
  tablet.tap(MeasureGlass{});
  tablet.tap(StepGlass{-40});
  tablet.tap(ShowTablet{});
  EXPECT_FALSE(view().glass);
  EXPECT_EQ(look().ppi, 189);
  tablet.tap(StepGlass{1});
  tablet.tap(KeepGlass{});
  EXPECT_EQ(look().ppi, 189) << "late taps";
  EXPECT_FALSE(tablet.model.preferences.ppi);
}

TEST_F(Prefer, TheBarStopsWhereNoTabletIs) {
  tablet.tap(ShowTablet{});
  tablet.tap(MeasureGlass{});
  for (int n = 0; n < 100; ++n) tablet.tap(StepGlass{16});
  EXPECT_FALSE(view().glass->can_larger);
  // 800 pixels on 95 mm: the shortest side a screen still fits on.
  EXPECT_NEAR(view().glass->bar_px, 85.60 / 95 * 800, 0.01);
  for (int n = 0; n < 200; ++n) tablet.tap(StepGlass{-16});
  EXPECT_FALSE(view().glass->can_smaller);
  EXPECT_NEAR(view().glass->bar_px, 85.60 / 25.4 * 60, 0.01);
}

// --- what the tablet says of itself

TEST_F(Prefer, TheTabletSaysWhatItIs) {
  tablet.facts_answer = {"K3MQ-7XWA-2PLD-VN5T", "0.1.0", "/data/a.ledger", 3'400'000,
                         8'100'000'000};
  tablet.tap(ShowTablet{});
  EXPECT_EQ(view().key, "") << "not read yet";
  tablet.settle();
  EXPECT_EQ(view().key, "K3MQ-7XWA-2PLD-VN5T");
  EXPECT_EQ(view().version, "0.1.0");
  EXPECT_EQ(view().records, "/data/a.ledger");
  EXPECT_EQ(view().records_size, "3\u00a0MB");
  EXPECT_EQ(view().free, "8.1\u00a0GB");
  EXPECT_EQ(view().ppi, "189");
  EXPECT_EQ(view().diagonal, "8.0");
  EXPECT_EQ(view().head.initials, "AB");
}

TEST_F(Prefer, SizesAreSaidInTheNextLargerUnit) {
  const auto said = [&](std::uint64_t bytes) {
    tablet.facts_answer.bytes = bytes;
    tablet.tap(ShowTablet{});
    tablet.settle();
    return view().records_size;
  };
  EXPECT_EQ(said(999'000), "999\u00a0kB");
  EXPECT_EQ(said(999'600), "1\u00a0MB");
  EXPECT_EQ(said(640'000'000), "640\u00a0MB");
  EXPECT_EQ(said(1'250'000'000'000), "1.2\u00a0TB");
}

TEST_F(Prefer, NobodySeesTheTabletWithoutSigningIn) {
  tablet.tap(HandOver{});
  tablet.tap(ShowTablet{});
  EXPECT_TRUE(std::holds_alternative<SignInView>(view_of(tablet.model)));
}

}  // namespace
}  // namespace ligule::flow
