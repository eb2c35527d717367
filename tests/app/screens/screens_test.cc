#include "app/screens/screens.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cstdlib>
#include <optional>
#include <set>

#include "tests/app/screens/glass.h"
#include "tests/app/screens/sample_views.h"
#include "tests/app/screens/scenes.h"
#include "tests/app/screens/taps_fixture.h"

namespace ligule::screens {
namespace {

using namespace tests;  // the samples of this folder

// LIGULE_SCENE=rate draws only the scenes that begin so: for whoever works on one screen.
std::vector<Scene> scenes() {
  std::vector<Scene> scenes = all_scenes();
  if (const char* only = std::getenv("LIGULE_SCENE"))  // NOLINT(concurrency-mt-unsafe): one thread
    std::erase_if(scenes, [&](const Scene& scene) { return !scene.name.starts_with(only); });
  return scenes;
}

Glass::Draw drawing(const Scene& scene, Scratch& scratch, std::vector<flow::Intent>& out,
                    const Language& words = english()) {
  return [&](touch::Ui& ui) { draw(ui, words, scene.view, scene.overlay, scratch, out); };
}

// Texts of one layer that lie on each other, or on a key they do not belong to.
std::vector<std::string> overlapping_texts(const touch::Register& seen) {
  std::vector<const touch::Widget*> texts;
  for (const auto& widget : seen.widgets)
    if (widget.kind == touch::Kind::kText && !widget.covered) texts.push_back(&widget);
  std::vector<std::string> faults;
  for (std::size_t a = 0; a < texts.size(); ++a) {
    for (std::size_t b = a + 1; b < texts.size(); ++b) {
      if (texts[a]->layer != texts[b]->layer) continue;
      const auto both = touch::visible_part(*texts[a]).common(touch::visible_part(*texts[b]));
      if (both.width() > 2 && both.height() > 2)
        faults.push_back("\"" + texts[a]->label + "\" lies on \"" + texts[b]->label + "\"");
    }
    for (const auto& key : seen.widgets) {
      const bool own = key.kind == touch::Kind::kSheet;  // what stands on a sheet belongs to it
      if (!touch::tappable(key.kind) || own || key.layer != texts[a]->layer) continue;
      const auto text = touch::visible_part(*texts[a]);
      const auto both = text.common(touch::visible_part(key));
      const bool inside = key.drawn.common(text) == text;
      if (!inside && both.width() > 2 && both.height() > 2)
        faults.push_back("\"" + texts[a]->label + "\" runs into \"" + key.label + "\"");
    }
  }
  return faults;
}

class EveryScreen : public testing::TestWithParam<Device> {
 protected:
  // Draws every scene with this look, and asks whether it stands. mark: what pictures are called
  // after scene and tablet; without it none are left.
  void check(const touch::Look& look, const Language& words, std::string_view what,
             const std::optional<std::string>& mark) {
    const Device& device = GetParam();
    Glass glass(device, look);
    for (const Scene& scene : scenes()) {
      Scratch scratch = scene.scratch;
      std::vector<flow::Intent> out;
      const auto& seen = glass.show(drawing(scene, scratch, out, words));
      const std::string name = scene.name + "-" + std::string(device.name);
      const std::string where = name + " " + std::string(what);
      EXPECT_THAT(touch::geometry_faults(seen), testing::IsEmpty()) << where;
      EXPECT_THAT(overlapping_texts(seen), testing::IsEmpty()) << where;
      EXPECT_TRUE(out.empty()) << where << " sends without a tap";
      if (mark) glass.save(name + *mark);
    }
  }
  // The tablet with the least room.
  [[nodiscard]] static bool small() { return GetParam().name.starts_with("8in"); }
};

TEST_P(EveryScreen, StandsWithoutAFaultInBothThemes) {
  check({}, english(), "on paper", "");
  const bool pictures = GetParam().name.starts_with("10in");
  check({.dusk = true}, english(), "at dusk",
        pictures ? std::optional<std::string>("-dusk") : std::nullopt);
}

TEST_P(EveryScreen, StandsWithGlovesAndTheLeftHand) {
  const auto mark = [](const char* name) {
    return small() ? std::optional<std::string>(name) : std::nullopt;
  };
  check({.gloves = true}, english(), "with gloves", mark("-gloves"));
  check({.hand = touch::Hand::kLeft}, english(), "left-handed", mark("-left"));
  check({.gloves = true, .large_text = true, .hand = touch::Hand::kLeft}, spanish(),
        "left-handed with gloves in large Spanish text", std::nullopt);
}

// Large text must not cost a number: 100 is the widest.
TEST_P(EveryScreen, ShowsEveryValueOfTheMapInLargeText) {
  Glass glass(GetParam(), {.large_text = true});
  Scratch scratch;
  std::vector<flow::Intent> out;
  const auto& seen = glass.show(drawing({"review", review_stand()}, scratch, out));
  EXPECT_TRUE(std::ranges::any_of(seen.widgets, [](const touch::Widget& widget) {
    return widget.kind == touch::Kind::kText && widget.label == "100";
  }));
}

// A sign that nobody explains is noise.
TEST_P(EveryScreen, ExplainsEverySignOfTheMap) {
  Glass glass(GetParam(), {});
  Scratch scratch;
  std::vector<flow::Intent> out;
  const auto& seen = glass.show(drawing({"review", review_stand()}, scratch, out));
  for (const char* word : {"open", "later", "questioned", "on hold", "missing", "two values"})
    EXPECT_TRUE(touch::shows(seen, word)) << word << " on " << GetParam().name;
}

// Its words are longer.
TEST_P(EveryScreen, StandsInSpanish) {
  const auto mark = [](const char* name) {
    return small() ? std::optional<std::string>(name) : std::nullopt;
  };
  check({}, spanish(), "in Spanish", mark("-es"));
  check({.gloves = true}, spanish(), "in Spanish with gloves", mark("-es-gloves"));
}

TEST_P(EveryScreen, StandsWithLargeText) {
  const auto mark = [](const char* name) {
    return small() ? std::optional<std::string>(name) : std::nullopt;
  };
  check({.large_text = true}, english(), "in large text", mark("-large"));
  check({.large_text = true}, spanish(), "in large Spanish text", mark("-es-large"));
}

std::string name_of_tablet(const testing::TestParamInfo<Device>& tablet) {
  std::string name(tablet.param.name);
  std::ranges::replace(name, '-', '_');
  return name;
}
INSTANTIATE_TEST_SUITE_P(Tablets, EveryScreen, testing::ValuesIn(kDevices), name_of_tablet);

// --- what a tap asks for ---

TEST_F(Taps, ATileChoosesItsValue) {
  for (const Device& device : {kDevices[0], kDevices[1], kDevices[2]}) {
    const auto chosen = only<flow::ChooseValue>(tap(sample_rate(0), "Stand/85", {}, device));
    EXPECT_EQ(chosen.measure, "percent_stand");
    EXPECT_EQ(chosen.entered, "85");
  }
  EXPECT_EQ(only<flow::ChooseValue>(tap(sample_rate(2), "Stage/R4")).entered, "R4");
}

TEST_F(Taps, AMeasureOpensItsPadAndThePercentItsFineSteps) {
  EXPECT_EQ(only<flow::FocusMeasure>(tap(sample_rate(0), "Card/Vigor")).measure, "seedling_vigor");
  flow::RateView rated = sample_rate(1);
  rated.focus = 0;
  EXPECT_EQ(only<flow::ShowFine>(tap(rated, "Card/Stand")).around, "85");
  EXPECT_EQ(only<flow::ShowFine>(tap(fine_rate(), "Card/Stand")).around, "");
  // Nothing to look at more closely yet: the pad stays.
  EXPECT_EQ(only<flow::FocusMeasure>(tap(sample_rate(0), "Card/Stand")).measure, "percent_stand");
}

TEST_F(Taps, TheWayFromPlotToPlot) {
  EXPECT_EQ(only<flow::GoToPlot>(tap(sample_rate(0), "lane/213")).plot, "213");
  only<flow::PutOff>(tap(sample_rate(0), "Later"));
  only<flow::TakeBack>(tap(sample_rate(0), "Take back"));
  only<flow::OpenNote>(tap(sample_rate(0), "Note"));
  only<flow::ShowToday>(tap(sample_rate(0), "Back"));
  only<flow::DeclareDone>(tap(finished_rate(), "Close this rating"));
  only<flow::DeclareDone>(tap(put_off_rate(), "Close"));
  for (const Device& device : kDevices)
    only<flow::DismissNotice>(tap(sample_rate(0), "Put away", notice_overlay(), device));
  EXPECT_TRUE(only<flow::AnswerClosing>(tap(days_end_open(), "Close it", closing_overlay())).close);
  EXPECT_FALSE(only<flow::AnswerClosing>(tap(days_end_open(), "Not yet", closing_overlay())).close);
}

TEST_F(Taps, StubbleIsSteppedAndKept) {
  EXPECT_EQ(only<flow::StepAmount>(tap(sample_rate(3), "Stubble/Step/More")).by, 1);
  EXPECT_EQ(only<flow::StepAmount>(tap(sample_rate(3), "Stubble/Step/Less")).by, -1);
  only<flow::KeepAmount>(tap(sample_rate(3), "Stubble/Keep"));
  EXPECT_EQ(only<flow::ChooseValue>(tap(sample_rate(3), "Stubble/3.5")).entered, "3.5");
}

TEST_F(Taps, ANoteIsTypedKeptOrLeft) {
  EXPECT_EQ(only<flow::KeyText>(tap(note_rate(), "space")).text, " ");
  only<flow::KeyDone>(tap(note_rate(), "Keep"));
  only<flow::CloseNote>(tap(note_rate(), "Back"));
  EXPECT_TRUE(only<flow::OpenNote>(tap(note_rate(), "Put it on plot 213")).on_last_plot);
}

TEST_F(Taps, AQuestionIsAnsweredAndNothingElse) {
  EXPECT_EQ(only<flow::AnswerQuestion>(
                tap(weighing(flow::Field::kGross), "Weigh again", question_overlay()))
                .phrase,
            "weigh_again");
  only<flow::RetryUnsaved>(tap(sample_rate(1), "Save again", unsaved_overlay()));
  only<flow::DropUnsaved>(tap(sample_rate(1), "Let them go", unsaved_overlay()));
}

TEST_F(Taps, TheStakeIsNamedInOneTap) {
  EXPECT_EQ(only<flow::NameStake>(tap(stake_rate(), "Stake/214")).plot, "214");
  EXPECT_EQ(only<flow::NameStake>(tap(stake_rate(), "Stake/213")).plot, "213");
  EXPECT_EQ(only<flow::NameStake>(tap(stake_weighing(), "Stake/215")).plot, "215");
  EXPECT_TRUE(only<flow::OtherStake>(tap(stake_rate(), "Another number")).open);
  only<flow::ShowToday>(tap(stake_rate(), "Back"));
  EXPECT_FALSE(only<flow::OtherStake>(tap(stake_number_rate(), "Back")).open);
  EXPECT_EQ(only<flow::KeyText>(tap(stake_number_rate(), "Stake/4")).text, "4");
  only<flow::KeyDone>(tap(stake_number_rate(), "Stake/Go there"));
  only<flow::LeaveSlipped>(tap(slipped_rate(), "They are right"));
  only<flow::LeaveSlipped>(tap(slipped_weighing(), "They are right"));
}

TEST_F(Taps, ReviewComparesAndStopsComparing) {
  only<flow::ListAgainst>(tap(review_stand(), "Compare"));
  only<flow::ReviewAlone>(tap(review_compared(), "Compare"));
  flow::ReviewView list = review_list();
  std::get<flow::OccasionListView>(list.page).against = true;
  const auto& row = std::get<flow::OccasionListView>(list.page).rows.front();
  const std::string label = row.trial_code + "/" + row.trial_code + "  " + row.code;
  EXPECT_EQ(only<flow::ReviewAgainst>(tap(list, label)).occasion, row.occasion);
}

TEST_F(Taps, SlideChoosesItsRunItsWayAndDoesIt) {
  EXPECT_EQ(only<flow::ChooseSlidePlot>(tap(slide_begun(), "Plots/103")).plot, "103");
  EXPECT_TRUE(only<flow::ChooseSlideEnd>(tap(slide_begun(), "To plot")).to);
  EXPECT_FALSE(only<flow::ChooseSlideEnd>(tap(slide_begun(), "From plot")).to);
  EXPECT_EQ(only<flow::SlideBy>(tap(slide_begun(), "One plot on")).by, 1);
  EXPECT_EQ(only<flow::SlideBy>(tap(slide_begun(), "One plot back")).by, -1);
  only<flow::DoSlide>(tap(slide_on(), "Do it"));
  only<flow::TakeBack>(tap(slide_on(), "Take back"));
  only<flow::ReviewBack>(tap(slide_on(), "Back"));
  only<flow::ShowSlide>(tap(review_stand(), "Review/Slide"));
  only<flow::SlideSlipped>(tap(slipped_rate(), "Slide them"));
}

TEST_F(Taps, HarvestKeepsFindsAndTypes) {
  only<flow::KeepPlot>(tap(weighing(flow::Field::kGross), "Keep plot"));
  only<flow::KeyDone>(tap(weighing(flow::Field::kPlot), "Go there"));
  const auto found = tap(more_weighing(), "Find");
  ASSERT_EQ(found.size(), 2U);
  EXPECT_EQ(std::get<flow::ShowPage>(found[0]).page, flow::PlotPage::kPad);
  EXPECT_EQ(std::get<flow::FocusField>(found[1]).field, flow::Field::kPlot);
  EXPECT_EQ(only<flow::FocusField>(tap(weighing(flow::Field::kGross), "Tare")).field,
            flow::Field::kTare);
  EXPECT_EQ(only<flow::KeyText>(tap(weighing(flow::Field::kGross), "Harvest/7")).text, "7");
  only<flow::KeyErase>(tap(weighing(flow::Field::kGross), "Erase"));
  only<flow::StartRun>(tap(run_head(true), "Start"));
  EXPECT_EQ(only<flow::ChooseSurface>(tap(run_head(true), "Surface/Rain")).code, "rain");
}

TEST_F(Taps, AKnownMachineReplacesWhatWasTyped) {
  const auto out = tap(run_head(true), "Machines/Plot harvester", {}, kDevices[2]);
  ASSERT_EQ(out.size(), 2U + std::string("Flail 2").size());
  EXPECT_EQ(std::get<flow::FocusField>(out.front()).field, flow::Field::kMachine);
  EXPECT_EQ(std::get<flow::KeyText>(out.back()).text, "Plot harvester");
}

TEST_F(Taps, DryWeightsAreChosenAndKept) {
  // On 8 in the first bag lies below the fold: it is typed or scanned.
  only<flow::ChooseBag>(tap(dry_many(), "Bag/101", {}, kDevices[2]));
  only<flow::KeyDone>(tap(dry_many(), "Next"));
  only<flow::KeepDry>(tap(dry_weighing(), "Keep"));
  only<flow::TakeBack>(tap(dry_weighing(), "Take back"));
  only<flow::SayBagGone>(tap(dry_weighing(), "No dried weight/Burst"));
  only<flow::ShowOven>(tap(dry_many(), "Oven/Oven"));
  EXPECT_FALSE(only<flow::WeighUntilConstant>(tap(dry_oven(), "Oven/Weigh once")).yes);
}

TEST_F(Taps, TodayLeadsOn) {
  only<flow::OpenOccasion>(tap(busy_today(), "TF24/2026-cut-1/Go on"));
  flow::TodayView weighed = finished_today();
  for (flow::DueRow& row : weighed.due) row.job = Job::kHarvest;
  // On 8 in it lies below the fold.
  only<flow::ReviewOccasion>(tap(weighed, "Look", {}, kDevices[2]));
  only<flow::ShowDryWeights>(tap(busy_today(), "Dry weights"));
  only<flow::ShowDaysEnd>(tap(busy_today(), "Day's end"));
  only<flow::HandOver>(tap(busy_today(), "Hand over/KV"));
  for (const Device& device : kDevices)
    EXPECT_EQ(only<flow::PickPerson>(tap(sample_sign_in(5), "JRM", {}, device)).initials, "JRM");
}

TEST_F(Taps, RateAndHarvestAreHandedOverAndLockedInOneTap) {
  for (const Device& device : kDevices) {
    only<flow::HandOver>(tap(sample_rate(0), "Hand over/KV", {}, device));
    only<flow::LockGlass>(tap(sample_rate(0), "Lock", {}, device));
    only<flow::HandOver>(tap(weighing(flow::Field::kGross), "Hand over/KV", {}, device));
    only<flow::LockGlass>(tap(weighing(flow::Field::kGross), "Lock", {}, device));
  }
}

// Proves: the locked screen stays readable, and nothing on it answers but the two corners.
TEST_F(Taps, TheLockedGlassOpensByItsCornersInTurn) {
  for (const Device& device : kDevices) {
    EXPECT_FALSE(
        only<flow::UnlockCorner>(tap(sample_rate(0), "Locked/1", locked_overlay(false), device))
            .second);
    EXPECT_TRUE(
        only<flow::UnlockCorner>(tap(sample_rate(0), "Locked/2", locked_overlay(true), device))
            .second);
    Glass glass(device, {});
    Scratch scratch;
    std::vector<flow::Intent> out;
    const auto& seen = glass.show([&](touch::Ui& ui) {
      draw(ui, english(), sample_rate(0), locked_overlay(false), scratch, out);
    });
    EXPECT_TRUE(touch::shows(seen, "214")) << device.name;
    std::vector<std::string> live;
    for (const touch::Widget& widget : seen.widgets)
      if (touch::tappable(widget.kind) && widget.enabled && !widget.covered)
        live.push_back(widget.label);
    EXPECT_EQ(live, std::vector<std::string>{"1"}) << device.name;
  }
}

TEST_F(Taps, AHandOverIsOneTapOrGoesBack) {
  for (const Device& device : kDevices) {
    EXPECT_EQ(only<flow::PickPerson>(tap(sample_hand_over(true), "KV", {}, device)).initials, "KV");
    only<flow::KeepTablet>(tap(sample_hand_over(false), "Back", {}, device));
  }
}

TEST_F(Taps, ACuttingBeforeItsDayIsMeantOrNot) {
  EXPECT_TRUE(only<flow::AnswerEarly>(tap(busy_today(), "Weigh it now", early_overlay())).weigh);
  EXPECT_FALSE(only<flow::AnswerEarly>(tap(busy_today(), "Not now", early_overlay())).weigh);
}

TEST_F(Taps, WhatIsLongPastIsUnfoldedByOneKey) {
  // On the large glass, where the key is in view.
  only<flow::ShowEarlier>(tap(earlier_today(false), "Earlier (2)", {}, kDevices[5]));
}

// Proves: trial and rating stand on the card, on the smallest glass too.
TEST_F(Taps, TheCardsNameTheirTrialAndWhatIsDone) {
  for (const Device& device : kDevices) {
    Glass glass(device, {});
    Scratch scratch;
    std::vector<flow::Intent> out;
    const auto& rate =
        glass.show([&](touch::Ui& ui) { draw(ui, english(), sample_rate(0), {}, scratch, out); });
    EXPECT_TRUE(touch::shows(rate, sample_rate(0).trial_code)) << device.name;
    EXPECT_TRUE(touch::shows(rate, "Sta")) << device.name;
    const auto weigh = weighing(flow::Field::kGross);
    Scratch read;
    const auto& harvest =
        glass.show([&](touch::Ui& ui) { draw(ui, english(), weigh, {}, read, out); });
    EXPECT_TRUE(touch::shows(harvest, weigh.trial_code)) << device.name;
    EXPECT_TRUE(touch::shows(harvest, "utting 1")) << device.name;
  }
}

TEST_F(Taps, ReviewLeadsFromTheMapToAPlot) {
  only<flow::ShowReview>(tap(busy_today(), "Review"));
  for (const Device& device : {kDevices[0], kDevices[1], kDevices[2]}) {
    EXPECT_EQ(only<flow::ShowHistory>(tap(review_stand(), "Map/102", {}, device)).plot, "102");
    EXPECT_EQ(only<flow::ReviewMeasure>(tap(review_stand(), "Measures/Vigor", {}, device)).measure,
              "seedling_vigor");
    only<flow::ListOccasions>(tap(review_stand(), "Review/TF24", {}, device));
  }
  only<flow::ReviewOccasion>(tap(review_list(), "SS26/SS26  2026-seedlings"));
  only<flow::ReviewBack>(tap(review_history(), "Back"));
  only<flow::ReviewBack>(tap(review_stand(), "Back"));
}

TEST_F(Taps, AValueIsPutRightByItsReason) {
  for (const Device& device : {kDevices[0], kDevices[1], kDevices[2]}) {
    only<flow::MendValue>(tap(review_history(), "percent_stand/Put right", {}, device));
    EXPECT_EQ(only<flow::KeyText>(tap(mend_amount(), "Put right/7", {}, device)).text, "7");
    EXPECT_EQ(only<flow::MendFor>(tap(mend_amount(), "Why/read wrong", {}, device)).reason,
              "misread");
    EXPECT_EQ(only<flow::MendBy>(tap(mend_amount(), "Way/It is right", {}, device)).what,
              flow::Mend::kSettle);
    EXPECT_EQ(only<flow::ChooseMended>(tap(mend_stage(), "Steps/R1", {}, device)).entered, "R1");
    EXPECT_EQ(
        only<flow::MendValue>(tap(mend_conflict(), "Claims/4", {}, device)).claim.uuid.bytes[0], 2);
  }
  only<flow::ReviewBack>(tap(mend_stage(), "Back"));
}

// Proves: a map wider and higher than the glass is dragged both ways.
TEST(ReviewMap, IsDraggedWhereItDoesNotFit) {
  Glass glass(kDevices[0], {});
  Scratch scratch;
  std::vector<flow::Intent> out;
  const auto& seen =
      glass.show([&](touch::Ui& ui) { draw(ui, english(), review_weights(), {}, scratch, out); });
  std::set<bool> ways;
  for (const auto& part : seen.scrollers)
    if (part.name.starts_with("map")) ways.insert(part.sideways);
  EXPECT_EQ(ways.size(), 2U);
  // The far corner is there, out of view.
  const auto corner = std::ranges::find(seen.widgets, "1616", &touch::Widget::label);
  ASSERT_NE(corner, seen.widgets.end());
  EXPECT_FALSE(touch::visible(*corner));
}

TEST_F(Taps, TheDayIsSealedAndCopied) {
  only<flow::SealDay>(tap(days_end_open(), "Seal the day"));
  EXPECT_EQ(only<flow::CopyTo>(tap(days_end_sealed(), "Copy to STICK 1")).place, "/media/stick");
  only<flow::ShowToday>(tap(days_end_sealed(), "Back"));
}

TEST_F(Taps, WithNoStickInTheDayAsksForOne) {
  flow::DaysEndView view = days_end_sealed();
  view.places.clear();
  view.copy.state = flow::StepState::kWaiting;
  Glass glass(kDevices[0], {});
  Scratch scratch;
  std::vector<flow::Intent> out;
  glass.show([&](touch::Ui& ui) { draw(ui, english(), view, {}, scratch, out); });
  EXPECT_TRUE(touch::shows(glass.seen(), "Put in a stick or a card"));
}

TEST_F(Taps, CautionsLieOverTheScreenUntilTheyAreRead) {
  Glass glass(kDevices[0], {});
  Scratch scratch;
  std::vector<flow::Intent> out;
  const auto screen = [&](touch::Ui& ui) {
    draw(ui, english(), run_head(true), cautions_overlay(true), scratch, out);
  };
  EXPECT_TRUE(touch::shows(glass.show(screen), "power take-off"));
  EXPECT_TRUE(touch::find(glass.seen(), "Start").empty());
  only<flow::ReadCautions>(tap(run_head(true), "Understood", cautions_overlay(true)));
}

TEST_F(Taps, TheScaleIsTakenFromTypedAndAskedAbout) {
  using flow::LoadState;
  only<flow::TakeWeight>(tap(load_weighing(LoadState::kStill), "Take weight"));
  only<flow::TakeWeight>(tap(load_weighing(LoadState::kMoving), "Take weight"));
  EXPECT_TRUE(only<flow::TypeWeight>(tap(load_weighing(LoadState::kEmpty), "Type it")).by_hand);
  EXPECT_TRUE(only<flow::CheckScale>(tap(load_weighing(LoadState::kEmpty), "Check weight")).open);
  const auto moving = load_weighing(LoadState::kMoving);
  EXPECT_FALSE(only<flow::AnswerMoving>(tap(moving, "Wait", moving_overlay(false))).average);
  EXPECT_TRUE(only<flow::AnswerMoving>(tap(moving, "Mean of 5 s", moving_overlay(false))).average);
  EXPECT_FALSE(only<flow::AnswerMoving>(tap(moving, "Stop", moving_overlay(true))).average);
  only<flow::TakeCheck>(tap(check_weighing(false), "Take check"));
  EXPECT_EQ(only<flow::FocusField>(tap(check_weighing(true), "Done")).field, flow::Field::kGross);
  const auto doubt = doubted_overlay(true);
  EXPECT_TRUE(only<flow::AnswerDoubted>(tap(check_weighing(false), "Hold them all", doubt)).hold);
  EXPECT_FALSE(only<flow::AnswerDoubted>(tap(check_weighing(false), "They stand", doubt)).hold);
  const auto wide = wide_mean_overlay();
  EXPECT_FALSE(only<flow::AnswerMoving>(tap(moving, "Weigh again", wide)).average);
  EXPECT_TRUE(only<flow::AnswerMoving>(tap(moving, "Keep the mean", wide)).average);
}

TEST_F(Taps, AScaleWithoutALoadTakesNothing) {
  using flow::LoadState;
  for (const LoadState state :
       {LoadState::kEmpty, LoadState::kNotLifted, LoadState::kNegative, LoadState::kOverload,
        LoadState::kUnderload, LoadState::kSilent, LoadState::kGarbled}) {
    Glass glass(kDevices[0], {});
    Scratch scratch;
    std::vector<flow::Intent> out;
    glass.show([&](touch::Ui& ui) { draw(ui, english(), load_weighing(state), {}, scratch, out); });
    EXPECT_TRUE(touch::find(glass.seen(), "Take weight").empty()) << name_of(state);
  }
}

TEST_F(Taps, APlotWithoutAWeightSaysWhy) {
  flow::HarvestView view = weighing(flow::Field::kGross);
  auto& step = std::get<flow::WeighingView>(view.step);
  step.can_keep = false;
  for (flow::FieldView& field : step.fields) field.text.clear();
  EXPECT_EQ(only<flow::ShowPage>(tap(view, "No weight")).page, flow::PlotPage::kNoWeight);
  EXPECT_EQ(only<flow::SayNoWeight>(tap(no_weight_weighing(), "Winterkill")).reason, "winterkill");
  EXPECT_EQ(only<flow::ShowPage>(tap(no_weight_weighing(), "Back to the weight")).page,
            flow::PlotPage::kPad);
}

TEST_F(Taps, WhatElseCanBeSaidOfAPlotStandsBehindOneKey) {
  EXPECT_EQ(only<flow::ShowPage>(tap(weighing(flow::Field::kGross), "More")).page,
            flow::PlotPage::kMore);
  EXPECT_EQ(only<flow::ShowPage>(tap(more_weighing(), "More")).page, flow::PlotPage::kPad);
  only<flow::MoreBag>(tap(more_weighing(), "One more bag"));
  only<flow::SayWeedsOnly>(tap(more_weighing(), "Weeds only"));
  EXPECT_EQ(only<flow::ShowPage>(tap(more_weighing(), "Bag or bin")).page,
            flow::PlotPage::kBagKinds);
  EXPECT_EQ(only<flow::ShowPage>(tap(more_weighing(), "Strip cut")).page, flow::PlotPage::kSwath);
  EXPECT_EQ(only<flow::ChooseBagKind>(tap(kinds_weighing(), "Crate")).kind, "crate");
  EXPECT_FALSE(only<flow::KeepSwath>(tap(swath_weighing(), "This plot")).block);
  EXPECT_TRUE(only<flow::KeepSwath>(tap(swath_weighing(), "Whole block 2")).block);
}

TEST_F(Taps, ClosedPadsTakeNothing) {
  flow::RateView view = sample_rate(0);
  view.can_enter = false;
  Glass glass(kDevices[0], {});
  Scratch scratch;
  std::vector<flow::Intent> out;
  glass.show([&](touch::Ui& ui) { draw(ui, english(), view, {}, scratch, out); });
  EXPECT_TRUE(touch::find(glass.seen(), "Stand/85").empty());
  EXPECT_TRUE(touch::find(glass.seen(), "Later").empty());
}

}  // namespace
}  // namespace ligule::screens
