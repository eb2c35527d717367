#include "app/platform/sound.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <functional>

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

// A sound with SDL's driver that writes into a file what others would let sound. The file is there
// from when a device was opened first, and holds what sounded since it was opened last.
class SoundInFile {
 public:
  SoundInFile() {
    setenv("SDL_AUDIODRIVER", "disk", 1);           // NOLINT(concurrency-mt-unsafe): one thread
    setenv("SDL_DISKAUDIOFILE", path_.c_str(), 1);  // NOLINT(concurrency-mt-unsafe)
    sound_.emplace(false, std::chrono::milliseconds{60});
    unsetenv("SDL_AUDIODRIVER");  // NOLINT(concurrency-mt-unsafe)
  }
  ~SoundInFile() {
    sound_.reset();
    unsetenv("SDL_DISKAUDIOFILE");  // NOLINT(concurrency-mt-unsafe)
    std::filesystem::remove(path_);
  }
  SoundInFile(const SoundInFile&) = delete;
  SoundInFile& operator=(const SoundInFile&) = delete;
  SoundInFile(SoundInFile&&) = delete;
  SoundInFile& operator=(SoundInFile&&) = delete;

  Sound* operator->() { return &*sound_; }
  [[nodiscard]] bool was_opened() const { return std::filesystem::exists(path_); }
  void forget() { std::filesystem::remove(path_); }
  // Whether all of a tone, without a gap, sounded and no device is open any more, within 20 s.
  [[nodiscard]] bool sounds_and_rests(Tone tone) const {
    return comes_true([&] { return !sound_->device_open() && sounded(tone); });
  }
  [[nodiscard]] static bool comes_true(const std::function<bool()>& so) {
    for (int n = 0; n < 4000 && !so(); ++n)
      std::this_thread::sleep_for(std::chrono::milliseconds{5});
    return so();
  }

 private:
  [[nodiscard]] bool sounded(Tone tone) const {
    std::ifstream file(path_, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(file), {}};
    std::vector<std::int16_t> samples(bytes.size() / sizeof(std::int16_t));
    if (samples.empty()) return false;
    std::memcpy(samples.data(), bytes.data(), samples.size() * sizeof(std::int16_t));
    return !std::ranges::search(samples, make_tone(tone)).empty();
  }

  std::string path_ = testing::TempDir() + "/ligule-sound-" + std::to_string(getpid());
  std::optional<Sound> sound_;
};

TEST(Sound, ADeviceIsOpenOnlyWhileATonePlays) {
  SoundInFile sound;
  ASSERT_TRUE(sound->audible()) << "SDL has no driver that writes into a file";
  std::this_thread::sleep_for(std::chrono::milliseconds{50});
  EXPECT_FALSE(sound.was_opened());
  for (const Tone tone : {Tone::kKept, Tone::kQuestioned, Tone::kKept}) {
    sound->play(tone);
    EXPECT_TRUE(sound.sounds_and_rests(tone));
    sound.forget();
    std::this_thread::sleep_for(std::chrono::milliseconds{50});
    EXPECT_FALSE(sound.was_opened());
  }
}

// Asked for while the device is being opened, while an older tone sounds, and in the rest after.
TEST(Sound, TheNewestToneSoundsWholeWheneverItIsAskedFor) {
  for (const int after_ms : {0, 5, 100}) {
    SoundInFile sound;
    ASSERT_TRUE(sound->audible());
    sound->play(Tone::kKept);
    std::this_thread::sleep_for(std::chrono::milliseconds{after_ms});
    sound->play(Tone::kQuestioned);
    EXPECT_TRUE(sound.sounds_and_rests(Tone::kQuestioned)) << after_ms;
  }
}

TEST(Sound, EndsWhileATonePlays) {
  SoundInFile sound;
  sound->play(Tone::kQuestioned);
  EXPECT_TRUE(SoundInFile::comes_true([&] { return sound.was_opened(); }));
}

// As on a machine without a loudspeaker: nothing sounds, nothing waits.
TEST(Sound, ADeviceThatCannotBeOpenedIsNoError) {
  SoundInFile sound;
  setenv("SDL_DISKAUDIOFILE", "/nowhere/at/all", 1);  // NOLINT(concurrency-mt-unsafe)
  sound->play(Tone::kKept);
  std::this_thread::sleep_for(std::chrono::milliseconds{50});
  EXPECT_FALSE(sound->device_open());
  EXPECT_TRUE(sound->audible());
}

TEST(Sound, SilentOpensNoDeviceAndPlaysNothing) {
  Sound sound(true);
  EXPECT_FALSE(sound.audible());
  sound.play(Tone::kKept);
}

}  // namespace
}  // namespace ligule::platform
