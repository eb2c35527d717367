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

std::chrono::milliseconds length_of(const std::vector<std::int16_t>& samples) {
  return std::chrono::milliseconds{static_cast<std::int64_t>(samples.size()) * 1000 / kSampleRate};
}

// 0: there is none, or another program has it. The next tone tries again.
std::uint32_t open_device() {
  SDL_AudioSpec wanted{};
  wanted.freq = kSampleRate;
  wanted.format = AUDIO_S16SYS;
  wanted.channels = 1;
  wanted.samples = 512;
  return SDL_OpenAudioDevice(nullptr, 0, &wanted, nullptr, 0);
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

Sound::Sound(bool silent, std::chrono::milliseconds rest) : rest_(rest) {
  if (silent || SDL_InitSubSystem(SDL_INIT_AUDIO) != 0) return;
  player_ = std::thread([this] { serve(); });
}

Sound::~Sound() {
  if (!player_.joinable()) return;
  {
    const std::lock_guard lock(mutex_);
    ended_ = true;
  }
  asked_.notify_one();
  player_.join();
  SDL_QuitSubSystem(SDL_INIT_AUDIO);
}

void Sound::play(Tone tone) {
  if (!audible()) return;
  {
    const std::lock_guard lock(mutex_);
    next_ = tone;
  }
  asked_.notify_one();
}

bool Sound::device_open() const {
  const std::lock_guard lock(mutex_);
  return device_ != 0;
}

// The player's thread: sleeps while nothing is asked for and no device is open.
void Sound::serve() {
  auto closes = std::chrono::steady_clock::time_point::max();
  std::unique_lock lock(mutex_);
  while (true) {
    const auto called = [this] { return ended_ || next_; };
    if (device_ == 0)
      asked_.wait(lock, called);
    else if (!asked_.wait_until(lock, closes, called))
      close(lock);
    if (ended_) break;
    if (!next_) continue;
    const auto samples = make_tone(*next_);
    next_.reset();
    sound(lock, samples);
    closes = std::chrono::steady_clock::now() + length_of(samples) + rest_;
  }
  close(lock);
}

// Without the lock while SDL is at work, so that nobody who asks for a tone waits for it.
void Sound::sound(std::unique_lock<std::mutex>& lock, const std::vector<std::int16_t>& samples) {
  std::uint32_t device = device_;
  lock.unlock();
  if (device == 0) device = open_device();
  if (device != 0) {
    SDL_ClearQueuedAudio(device);
    SDL_QueueAudio(device, samples.data(),
                   static_cast<Uint32>(samples.size() * sizeof(samples[0])));
    SDL_PauseAudioDevice(device, 0);
  }
  lock.lock();
  device_ = device;
}

void Sound::close(std::unique_lock<std::mutex>& lock) {
  const std::uint32_t device = device_;
  if (device == 0) return;
  lock.unlock();
  SDL_CloseAudioDevice(device);
  lock.lock();
  device_ = 0;
}

}  // namespace ligule::platform
