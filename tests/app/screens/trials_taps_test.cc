// What a tap on the Trials screen asks for.
#include <gtest/gtest.h>

#include "app/screens/screens.h"
#include "tests/app/screens/glass.h"
#include "tests/app/screens/sample_views.h"

namespace ligule::screens {
namespace {

using namespace tests;  // the samples of this folder

class TrialTaps : public testing::TestWithParam<Device> {
 protected:
  template <class Intent>
  Intent only(const flow::View& view, std::string_view label) {
    Glass glass(GetParam(), {});
    Scratch scratch;
    std::vector<flow::Intent> out;
    glass.tap(label, [&](touch::Ui& ui) { draw(ui, english(), view, {}, scratch, out); });
    if (out.size() == 1 && std::holds_alternative<Intent>(out.front()))
      return std::get<Intent>(out.front());
    ADD_FAILURE() << label << ": another intent, or " << out.size() << " of them";
    return {};
  }
};

TEST_P(TrialTaps, ListAndPage) {
  only<flow::ShowTrials>(busy_today(), "Trials");
  only<flow::ShowTrial>(trials_list(), "AL24/Open");
  only<flow::LookForPlans>(trials_list(), "From a stick or card");
  EXPECT_EQ(only<flow::ShowTrialTab>(trial_plots(), "Tab/Events").tab, flow::TrialTab::kEvents);
  EXPECT_EQ(only<flow::ShowTrialTab>(trial_soil(), "Tab/Soil").tab, flow::TrialTab::kSoil);
  EXPECT_EQ(only<flow::StatePlot>(trial_plots(), "Plots/102").plot, "102");
  only<flow::ShowNames>(trial_entries(true), "Show names");
  only<flow::NewEvent>(trial_events(), "Write down an event");
  only<flow::TrialsBack>(trial_events(), "Trials/Back");
  EXPECT_EQ(only<flow::ShowEventBack>(trial_events(), "Damage 2026-05-18/Take back").event,
            std::get<flow::TrialPageView>(trial_events().page).events.front().id);
  EXPECT_EQ(only<flow::TakeEventBack>(event_back(), "Why/tapped wrong").reason, "mistap");
}

TEST_P(TrialTaps, Forms) {
  EXPECT_EQ(only<flow::StateSown>(sown_form(false), "Status/Nobody knows").status,
            AsSownStatus::kUnknown);
  EXPECT_EQ(only<flow::StateSown>(sown_form(true), "Entry/F1").entry, "F1");
  EXPECT_EQ(only<flow::DescribeEvent>(new_event_form(), "What/Lime").what, "lime");
  EXPECT_EQ(only<flow::DescribeEvent>(event_form(false), "What/Damage").what, "damage");
  only<flow::KeepEvent>(event_form(false), "Keep event");
  EXPECT_EQ(only<flow::KeyText>(event_form(true), "space").text, " ");
}

// What stands on a plot is one tap from its card, whatever the glass.
TEST_P(TrialTaps, ThePlotsNumberLeadsToWhatStandsThere) {
  only<flow::ShowStands>(sample_rate(1), "What stands here");
  only<flow::ShowStands>(stated_rate(), "What stands here");
  only<flow::ShowStands>(weighing(flow::Field::kGross), "What stands here");
  only<flow::StateExchanged>(sown_form(false), "Status/Swapped with a plot");
  EXPECT_EQ(only<flow::StateExchanged>(sown_exchanged(false), "With/216").with, "216");
  EXPECT_EQ(only<flow::KeyText>(sown_exchanged(true), "7").text, "7");
  only<flow::KeyDone>(sown_exchanged(true), "Done");
}

TEST_P(TrialTaps, NewPlansOfAStickAreTakenInByOneTap) {
  only<flow::LoadSticks>(stick_today(false), "Stick/Load");
  only<flow::LoadSticks>(stick_today(true), "Stick/Load");
  only<flow::ShowStick>(stick_trials(), "Stick/Look");
}

TEST_P(TrialTaps, Plans) {
  EXPECT_EQ(only<flow::CheckPlan>(plan_folders(true), "Folders/AL26").path, "/media/kv/STICK/AL26");
  only<flow::LoadPlan>(plan_checked(), "Load this plan");
  EXPECT_EQ(only<flow::OfferCopy>(found_copies(), "Copies/North 1").path,
            "/media/kv/CARD/a.ledger");
  EXPECT_EQ(only<flow::CheckFile>(found_files(),
                                  "Files/season-01a21b34-5c6d-7e8f-9a0b-1c2d3e4f5a6b-1-1312.zip")
                .path,
            "/media/kv/STICK/season-01a21b34-5c6d-7e8f-9a0b-1c2d3e4f5a6b-1-1312.zip");
  only<flow::TakeFile>(offered_file(false), "The letters are the same: take it in");
  only<flow::TakeFile>(offered_file(true), "Take it in");
  only<flow::GoOnFromCopy>(offered_copy(false), "Go on here");
  only<flow::TrialsBack>(offered_copy(false), "Trials/Back");
}

// What lies below on low glass, where there is room for it.
TEST(TrialForms, DayReasonAndPlace) {
  Glass glass(kDevices[5], {});
  const auto tap = [&](const flow::View& view, std::string_view label) {
    Scratch scratch;
    std::vector<flow::Intent> out;
    glass.tap(label, [&](touch::Ui& ui) { draw(ui, english(), view, {}, scratch, out); });
    EXPECT_EQ(out.size(), 1U) << label;
    return out.empty() ? flow::Intent{} : out.front();
  };
  EXPECT_EQ(std::get<flow::StepDay>(tap(sown_form(true), "Since/Day before")).by, 1);
  EXPECT_EQ(std::get<flow::StepDay>(tap(sown_form(true), "Since/Day after")).by, -1);
  EXPECT_EQ(std::get<flow::KeepSown>(tap(sown_form(true), "Why/packets mixed up")).reason,
            "packet_mixed");
  EXPECT_TRUE(
      std::get<flow::StateExchanged>(tap(sown_exchanged(false), "With/Another number")).typing);
  EXPECT_EQ(std::get<flow::SaySownFrom>(tap(sown_exchanged(false), "From/From today on")).from,
            flow::SownFrom::kToday);
  EXPECT_EQ(std::get<flow::DescribeEvent>(tap(event_form(false), "Where/Whole trial")).block, 0);
  EXPECT_EQ(std::get<flow::DescribeEvent>(tap(event_form(false), "Where/Block 3")).block, 3);
  EXPECT_EQ(std::get<flow::DescribeEvent>(tap(event_form(false), "In your words")).writing,
            "words");
  EXPECT_EQ(std::get<flow::DescribeEvent>(tap(grazing_form(false), "Animals/Goats")).animals,
            "goats");
  EXPECT_EQ(std::get<flow::DescribeEvent>(tap(grazing_form(false), "Height before, in")).writing,
            "height_before");
  EXPECT_EQ(std::get<flow::KeyText>(tap(grazing_form(true), "7")).text, "7");
  EXPECT_EQ(std::get<flow::DescribeEvent>(tap(spray_form(""), "No entry/A date and hour")).no_entry,
            NoEntryBy::kUntil);
  EXPECT_EQ(std::get<flow::StepUntil>(tap(spray_until_form(), "No entry until, day/Day after")).by,
            1);
  EXPECT_EQ(std::get<flow::StepDay>(tap(spray_until_form(), "Day/Day after")).by, -1);
}

TEST_P(TrialTaps, StayOut) {
  const auto answer = [&](std::string_view label) {
    Glass glass(GetParam(), {});
    Scratch scratch;
    std::vector<flow::Intent> out;
    glass.tap(label, [&](touch::Ui& ui) {
      draw(ui, english(), sprayed_today(1), stay_out_overlay(true), scratch, out);
    });
    EXPECT_EQ(out.size(), 1U) << label;
    return !out.empty() && std::get<flow::AnswerNoEntry>(out.front()).go_in;
  };
  EXPECT_FALSE(answer("Stay out"));
  EXPECT_TRUE(answer("The label allows it"));
}

INSTANTIATE_TEST_SUITE_P(Tablets, TrialTaps, testing::ValuesIn(kDevices), [](const auto& tablet) {
  std::string name(tablet.param.name);
  std::ranges::replace(name, '-', '_');
  return name;
});

}  // namespace
}  // namespace ligule::screens
