// What taps on pads of several numbers, of visits and of notes ask for.
#include "app/touch/register.h"
#include "tests/app/screens/taps_fixture.h"

namespace ligule::screens {
namespace {

using namespace tests;  // the samples of this folder

class PadTaps : public Taps {};

TEST_F(PadTaps, PadsOfSeveralNumbersSayWhatWasTapped) {
  for (const Device& device : kDevices) {
    EXPECT_EQ(only<flow::KeyText>(tap(height_rate(false), "Stretched/7", {}, device)).text, "7");
    only<flow::KeyDone>(tap(height_rate(false), "Stretched/Keep", {}, device));
    only<flow::KeyErase>(tap(height_rate(false), "Stretched/Erase", {}, device));
    EXPECT_EQ(only<flow::SetShare>(tap(cover_rate(), "Cover/30", {}, device)).entered, "30");
    EXPECT_EQ(only<flow::FocusShare>(tap(cover_rate(), "Cover/bare", {}, device)).part, "bare");
    EXPECT_EQ(only<flow::StepShare>(tap(cover_rate(), "Cover/+5", {}, device)).by, 1);
    EXPECT_EQ(only<flow::StepShare>(tap(cover_rate(), "Cover/-5", {}, device)).by, -1);
    only<flow::KeepGathered>(tap(cover_full_rate(), "Cover/Keep", {}, device));
    EXPECT_EQ(only<flow::CountStage>(tap(counts_rate(false), "Counts/R1", {}, device)).stage, "R1");
    only<flow::KeepGathered>(tap(counts_rate(true), "Counts/Keep", {}, device));
    only<flow::DropLast>(tap(counts_rate(true), "Redo last", {}, device));
    EXPECT_EQ(only<flow::TapCell>(tap(frame_rate(false), "Frame/7", {}, device)).cell, 6);
    only<flow::NextPlacement>(tap(frame_rate(false), "Next frame", {}, device));
    only<flow::NextPlacement>(tap(frame_rate(true), "Count again", {}, device));
    EXPECT_EQ(only<flow::MarkReached>(tap(heading_rate(24), "Plots/204", {}, device)).plot, "204");
    only<flow::OthersNotYet>(tap(heading_rate(24), "11 others: not yet", {}, device));
    EXPECT_EQ(only<flow::ShowBlock>(tap(heading_rate(24), "Next block", {}, device)).block, 3);
    EXPECT_EQ(only<flow::ShowBlock>(tap(heading_rate(24), "Block before", {}, device)).block, 1);
  }
}

// What does not fit beside the other shares, and what was reached before, takes no tap.
TEST_F(PadTaps, PadsOfferOnlyWhatCanBe) {
  Glass glass(kDevices[0], {});
  Scratch scratch;
  std::vector<flow::Intent> out;
  glass.show([&](touch::Ui& ui) { draw(ui, english(), cover_rate(), {}, scratch, out); });
  EXPECT_TRUE(touch::find(glass.seen(), "Cover/50").empty());
  EXPECT_TRUE(touch::find(glass.seen(), "Cover/Keep").empty());
  glass.show([&](touch::Ui& ui) { draw(ui, english(), heading_rate(24), {}, scratch, out); });
  EXPECT_TRUE(touch::find(glass.seen(), "Plots/201").empty());
}

TEST_F(PadTaps, AScoreOfTheProgramsOwnSpeaksItsOwnWords) {
  Glass glass(kDevices[2], {});
  Scratch scratch;
  std::vector<flow::Intent> out;
  glass.show([&](touch::Ui& ui) { draw(ui, english(), own_score_rate(), {}, scratch, out); });
  for (const char* word : {"Leaf texture", "How harsh leaves feel", "soft", "harsh"})
    EXPECT_TRUE(touch::shows(glass.seen(), word)) << word;
  EXPECT_EQ(only<flow::ChooseValue>(tap(own_score_rate(), "Leaf texture/7")).entered, "7");
}

TEST_F(PadTaps, APhraseGoesIntoTheNoteByItsCode) {
  for (const Device& device : kDevices)
    EXPECT_EQ(only<flow::KeyText>(tap(note_rate(), "Phrases/birds", {}, device)).text, "[birds] ");
  flow::RateView view = note_rate();
  view.note->text = "[birds] first [row] [photo] 12";
  Glass glass(kDevices[2], {});
  Scratch scratch;
  std::vector<flow::Intent> out;
  glass.show([&](touch::Ui& ui) { draw(ui, english(), view, {}, scratch, out); });
  EXPECT_TRUE(touch::shows(glass.seen(), "birds first [row] photo taken, no. 12"));
}

// Proves: whoever weighs a part sees which one, with and without large text; low glass gives up the
// words about the others for it.
TEST_F(PadTaps, ThePartOnTheTableIsSeen) {
  for (const Device& device : kDevices)
    for (const bool large : {false, true}) {
      touch::Look look;
      look.large_text = large;
      Glass glass(device, look);
      Scratch scratch;
      std::vector<flow::Intent> out;
      glass.show([&](touch::Ui& ui) { draw(ui, english(), sorting_part(), {}, scratch, out); });
      const auto part = touch::find(glass.seen(), "Part/broadleaf weeds");
      ASSERT_EQ(part.size(), 1U) << device.name << (large ? " large" : "");
      const auto shown = touch::visible_part(*part.front());
      EXPECT_GT(shown.height(), 0.7F * part.front()->drawn.height())
          << device.name << (large ? " large" : "");
      EXPECT_FALSE(touch::find(glass.seen(), "Take back").empty()) << device.name;
    }
}

// Proves: heights that are read several times step too, on every glass, with gloves and without.
TEST_F(PadTaps, AHeightHasItsFineSteps) {
  for (const Device& device : kDevices) {
    for (const bool gloves : {false, true}) {
      touch::Look look;
      look.gloves = gloves;
      EXPECT_EQ(only<flow::StepAmount>(tap(height_rate(false), "Step/More", {}, device, look)).by,
                1)
          << device.name;
      EXPECT_EQ(only<flow::StepAmount>(tap(height_rate(false), "Step/Less", {}, device, look)).by,
                -1);
    }
  }
}

}  // namespace
}  // namespace ligule::screens
