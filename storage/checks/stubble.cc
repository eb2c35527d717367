#include "storage/checks/stubble.h"

#include <algorithm>

namespace ligule::checks {

std::optional<double> least_stubble(const Plan& plan, std::span<const Species> species) {
  std::optional<double> least;
  for (const PlanEntry& entry : plan.entries) {
    const auto at = std::ranges::find(species, entry.species, &Species::code);
    if (at == species.end()) continue;
    const std::optional<double> bears = at->stubble_in;
    if (bears) least = std::max(least.value_or(0), *bears);
  }
  return least;
}

bool is_low(double inches, std::optional<double> least) {
  return least && inches < *least - 0.001;
}

}  // namespace ligule::checks
