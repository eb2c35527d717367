#include "storage/checks/stubble.h"

#include <algorithm>

#include "storage/trial/unit_names.h"

namespace ligule::checks {

std::optional<double> least_inches(const Limit* limit) {
  if (limit == nullptr) return std::nullopt;
  const std::optional<double> height = limit->ask_below;
  if (!height) return std::nullopt;
  const auto length = length_in(*height, limit->unit);
  if (!length) return std::nullopt;
  return convert<Inches>(*length).value();
}

std::optional<double> least_stubble(const Plan& plan, const Definitions& definitions) {
  std::optional<double> least;
  for (const PlanEntry& entry : plan.entries) {
    const auto bears = least_inches(definitions.limit_for(kStubbleHeight, entry.species));
    if (bears) least = std::max(least.value_or(0), *bears);
  }
  return least;
}

bool is_low(double inches, std::optional<double> least) {
  return least && inches < *least - 0.001;
}

std::optional<double> inches_stated(const Record& record) {
  const std::optional<double> value = record.value;
  if (!value) return std::nullopt;
  const auto height = length_in(*value, record.unit);
  return height ? std::optional(convert<Inches>(*height).value()) : std::nullopt;
}

}  // namespace ligule::checks
