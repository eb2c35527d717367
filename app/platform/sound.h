// Two short tones: one says "kept", another, lower and twice, says "questioned".
//
// A tablet in the noise of a harvester may not be heard and one without a speaker stays silent:
// sound only doubles what the screen already shows, so a missing device is no error.
#pragma once

#include <chrono>
#include <condition_variable>
#include <cstdint>
#include <mutex>
#include <optional>
#include <thread>
#include <vector>

namespace ligule::platform {

enum class Tone { kKept, kQuestioned };

// One tone as 16-bit mono samples at kSampleRate, with soft ends so that it does not click.
inline constexpr int kSampleRate = 22050;
[[nodiscard]] std::vector<std::int16_t> make_tone(Tone tone);

// An open device wakes the processor 43 times a second even while nothing sounds. So it is open
// only while a tone plays and a moment after, which taps that follow one another share; a thread of
// its own opens it, since a sound server may take its time and a tap must not.
class Sound {
 public:
  // silent: never opens a device (headless, or the person wants quiet). A device stays open `rest`
  // after the end of a tone.
  explicit Sound(bool silent, std::chrono::milliseconds rest = std::chrono::seconds{2});
  ~Sound();
  Sound(const Sound&) = delete;
  Sound& operator=(const Sound&) = delete;
  Sound(Sound&&) = delete;
  Sound& operator=(Sound&&) = delete;

  // Replaces what is still playing: the newest answer is the one that counts. Returns at once; a
  // tone asked for while the device is being opened plays as soon as it is.
  void play(Tone tone);
  [[nodiscard]] bool audible() const { return player_.joinable(); }
  [[nodiscard]] bool device_open() const;

 private:
  void serve();
  void sound(std::unique_lock<std::mutex>& lock, const std::vector<std::int16_t>& samples);
  void close(std::unique_lock<std::mutex>& lock);

  std::chrono::milliseconds rest_;
  mutable std::mutex mutex_;
  std::condition_variable asked_;
  std::optional<Tone> next_;
  bool ended_ = false;
  std::uint32_t device_ = 0;  // SDL's number of it; 0: none is open
  std::thread player_;
};

}  // namespace ligule::platform
