// Two short tones: one says "kept", another, lower and twice, says "questioned".
//
// A tablet in the noise of a harvester may not be heard and one without a speaker stays silent:
// sound only doubles what the screen already shows, so a missing device is no error.
#pragma once

#include <cstdint>
#include <vector>

namespace ligule::platform {

enum class Tone { kKept, kQuestioned };

// One tone as 16-bit mono samples at kSampleRate, with soft ends so that it does not click.
inline constexpr int kSampleRate = 22050;
[[nodiscard]] std::vector<std::int16_t> make_tone(Tone tone);

class Sound {
 public:
  // silent: never opens a device (headless, or the person wants quiet).
  explicit Sound(bool silent);
  ~Sound();
  Sound(const Sound&) = delete;
  Sound& operator=(const Sound&) = delete;

  // Replaces what is still playing: the newest answer is the one that counts.
  void play(Tone tone);
  [[nodiscard]] bool audible() const { return device_ != 0; }

 private:
  std::uint32_t device_ = 0;
};

}  // namespace ligule::platform
