#include "sync/results/scale_steps.h"

#include <algorithm>
#include <cmath>

namespace ligule::results {
namespace {

// Steps are written with one or two decimals.
constexpr double kSameStep = 1e-9;

struct Ends {
  double low = 0.0;
  double high = 0.0;
};

// Percents end at 0 and 100 where their scale does not say otherwise.
Ends ends_of(const Scale& scale) {
  return {scale.minimum.value_or(0.0), scale.maximum.value_or(100.0)};
}

}  // namespace

std::size_t steps_of(const Scale& scale) {
  if (scale.kind == ScaleKind::kScore || scale.kind == ScaleKind::kStages)
    return scale.steps.size();
  const Ends ends = ends_of(scale);
  if (scale.kind != ScaleKind::kPercent || !(scale.step > 0.0) || !(ends.high > ends.low)) return 0;
  return static_cast<std::size_t>(std::lround((ends.high - ends.low) / scale.step)) + 1;
}

std::optional<std::size_t> step_at(const Scale& scale, double value) {
  if (scale.kind == ScaleKind::kPercent) {
    const Ends ends = ends_of(scale);
    if (steps_of(scale) == 0 || !(value >= ends.low && value <= ends.high)) return std::nullopt;
    const auto step = static_cast<std::size_t>(std::lround((value - ends.low) / scale.step));
    return std::min(step, steps_of(scale) - 1);
  }
  for (std::size_t n = 0; n < steps_of(scale); ++n)
    if (std::fabs(scale.steps[n].value - value) <= kSameStep) return n;
  return std::nullopt;
}

}  // namespace ligule::results
