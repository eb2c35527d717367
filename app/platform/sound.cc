#include "app/platform/sound.h"

#include <SDL.h>

#include <algorithm>
#include <cmath>
#include <numbers>

namespace ligule::platform {
namespace {

// Appends a sine of that pitch; 8 ms of rise and fall keep it from clicking.
void add_sine(std::vector<std::int16_t>& samples, double hertz, double seconds) {
  const int count = static_cast<int>(seconds * kSampleRate);
  const int edge = kSampleRate * 8 / 1000;
  for (int n = 0; n < count; ++n) {
    const double rise =
        std::min({1.0, n / static_cast<double>(edge), (count - n) / static_cast<double>(edge)});
    const double wave = std::sin(2 * std::numbers::pi * hertz * n / kSampleRate);
    samples.push_back(static_cast<std::int16_t>(std::lround(wave * rise * 16000)));
  }
}

void add_silence(std::vector<std::int16_t>& samples, double seconds) {
  samples.insert(samples.end(), static_cast<std::size_t>(seconds * kSampleRate), 0);
}

}  // namespace

std::vector<std::int16_t> make_tone(Tone tone) {
  std::vector<std::int16_t> samples;
  if (tone == Tone::kKept) {
    add_sine(samples, 1175, 0.07);
  } else {
    add_sine(samples, 330, 0.14);
    add_silence(samples, 0.07);
    add_sine(samples, 262, 0.22);
  }
  return samples;
}

Sound::Sound(bool silent) {
  if (silent || SDL_InitSubSystem(SDL_INIT_AUDIO) != 0) return;
  SDL_AudioSpec wanted{};
  wanted.freq = kSampleRate;
  wanted.format = AUDIO_S16SYS;
  wanted.channels = 1;
  wanted.samples = 512;
  device_ = SDL_OpenAudioDevice(nullptr, 0, &wanted, nullptr, 0);
  if (device_ != 0) SDL_PauseAudioDevice(device_, 0);
}

Sound::~Sound() {
  if (device_ != 0) SDL_CloseAudioDevice(device_);
}

void Sound::play(Tone tone) {
  if (device_ == 0) return;
  const auto samples = make_tone(tone);
  SDL_ClearQueuedAudio(device_);
  SDL_QueueAudio(device_, samples.data(),
                 static_cast<Uint32>(samples.size() * sizeof(std::int16_t)));
}

}  // namespace ligule::platform
