#include "storage/checks/pace.h"

#include <algorithm>
#include <cmath>
#include <map>

namespace ligule::checks {

std::optional<SameRun> odd_run(std::span<const GivenValue> values) {
  std::map<std::string, std::size_t> count;
  for (const GivenValue& value : values) ++count[value.entered];
  std::optional<SameRun> found;
  double least = kChance;
  for (std::size_t from = 0; from < values.size();) {
    std::size_t to = from;
    while (to < values.size() && values[to].entered == values[from].entered) ++to;
    const std::size_t length = to - from;
    // Runs of this length that are to be expected when the same values are dealt in any order: of
    // the places a run can begin at, those where `length` draws without putting back all show it.
    double chance = static_cast<double>(values.size() - length + 1);
    for (std::size_t n = 0; n < length; ++n)
      chance *= static_cast<double>(count[values[from].entered] - n) /
                static_cast<double>(values.size() - n);
    if (chance < least) {
      least = chance;
      found = SameRun{values[from].plot, values[to - 1].plot, values[from].entered, length};
    }
    from = to;
  }
  return found;
}

std::vector<std::string> too_fast(std::span<const Visited> visits, double reach) {
  std::vector<std::string> plots;
  for (std::size_t n = 1; n < visits.size(); ++n) {
    const Visited& from = visits[n - 1];
    const Visited& to = visits[n];
    const double way = std::hypot(to.across - from.across, to.along - from.along);
    const double seconds = std::chrono::duration<double>(to.at - from.at).count();
    if (seconds >= 0 && way > reach && way > kFastest * seconds) plots.push_back(to.plot);
  }
  return plots;
}

}  // namespace ligule::checks
