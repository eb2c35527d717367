#include "app/platform/clock.h"

#include <chrono>

namespace ligule::platform {

using std::chrono::duration_cast;
using std::chrono::milliseconds;

std::int64_t RealClock::utc_ms() const {
  return duration_cast<milliseconds>(std::chrono::system_clock::now().time_since_epoch()).count();
}

std::int64_t RealClock::steady_ms() const {
  return duration_cast<milliseconds>(std::chrono::steady_clock::now().time_since_epoch()).count();
}

}  // namespace ligule::platform
