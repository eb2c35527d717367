#include "app/platform/sound.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <cstdlib>

namespace ligule::platform {
namespace {

double seconds(Tone tone) {
  return static_cast<double>(make_tone(tone).size()) / kSampleRate;
}

// Crossings of zero in the first 50 ms give the pitch.
double pitch(Tone tone) {
  const auto samples = make_tone(tone);
  const std::size_t count = kSampleRate / 20;
  int crossings = 0;
  for (std::size_t n = 1; n < count; ++n)
    if ((samples[n - 1] < 0) != (samples[n] < 0)) ++crossings;
  return crossings * 10.0;
}

TEST(Tones, KeptIsShortAndHighQuestionedIsLongAndLow) {
  EXPECT_LT(seconds(Tone::kKept), 0.1);
  EXPECT_GT(seconds(Tone::kQuestioned), 0.3);
  EXPECT_NEAR(pitch(Tone::kKept), 1175, 25);
  EXPECT_NEAR(pitch(Tone::kQuestioned), 330, 25);
}

TEST(Tones, StartAndEndSoftlyAndNeverClip) {
  for (const Tone tone : {Tone::kKept, Tone::kQuestioned}) {
    const auto samples = make_tone(tone);
    EXPECT_LT(std::abs(samples.front()), 200);
    EXPECT_LT(std::abs(samples.back()), 2000);
    EXPECT_LT(std::ranges::max(samples), 16001);
  }
}

TEST(Sound, SilentOpensNoDeviceAndPlaysNothing) {
  Sound sound(true);
  EXPECT_FALSE(sound.audible());
  sound.play(Tone::kKept);
}

}  // namespace
}  // namespace ligule::platform
