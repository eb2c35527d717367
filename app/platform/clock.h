// Where the time comes from: the machine, or a drive file.
//
// Everything that asks "now" asks a Clock handed in, so that a driven run gives the same times
// every time.
#pragma once

#include <atomic>
#include <cstdint>

namespace ligule::platform {

class Clock {
 public:
  Clock() = default;
  Clock(const Clock&) = delete;
  Clock& operator=(const Clock&) = delete;
  virtual ~Clock() = default;

  // Milliseconds since 1970-01-01T00:00Z, for records.
  [[nodiscard]] virtual std::int64_t utc_ms() const = 0;
  // Milliseconds that only grow, for flashes and idle times.
  [[nodiscard]] virtual std::int64_t steady_ms() const = 0;
  // Lets time go by. Only a driven clock does; the machine's own passes by itself.
  virtual void pass(std::int64_t ms) = 0;
  [[nodiscard]] virtual bool driven() const = 0;
};

// The machine's clock.
class RealClock final : public Clock {
 public:
  [[nodiscard]] std::int64_t utc_ms() const override;
  [[nodiscard]] std::int64_t steady_ms() const override;
  void pass(std::int64_t) override {}
  [[nodiscard]] bool driven() const override { return false; }
};

// Stands still at `start_utc_ms` (08:00 of the site's zone on --today, worked out by the caller,
// who knows the zone) until pass() is called. Read by the writer thread too, hence atomic inside.
class DrivenClock final : public Clock {
 public:
  explicit DrivenClock(std::int64_t start_utc_ms) : start_utc_ms_(start_utc_ms) {}
  [[nodiscard]] std::int64_t utc_ms() const override { return start_utc_ms_ + passed_ms_; }
  [[nodiscard]] std::int64_t steady_ms() const override { return passed_ms_; }
  void pass(std::int64_t ms) override { passed_ms_ += ms; }
  [[nodiscard]] bool driven() const override { return true; }

 private:
  std::int64_t start_utc_ms_;
  std::atomic<std::int64_t> passed_ms_ = 0;
};

}  // namespace ligule::platform
