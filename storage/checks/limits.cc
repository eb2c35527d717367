#include "storage/checks/limits.h"

#include <algorithm>

#include "storage/trial/unit_names.h"

namespace ligule::checks {
namespace {

// How many of `unit` one of `first` is. Both are units of the scale.
Result<double> in_unit(ScaleKind kind, std::string_view first, std::string_view unit) {
  if (first == unit) return 1.0;
  if (kind == ScaleKind::kLength) {
    const auto from = length_in(1.0, first);
    if (!from) return std::unexpected(from.error());
    const auto into = length_in(1.0, unit);
    if (!into) return std::unexpected(into.error());
    return from->value() / into->value();
  }
  const auto from = mass_in(1.0, first);
  if (!from) return std::unexpected(from.error());
  const auto into = mass_in(1.0, unit);
  if (!into) return std::unexpected(into.error());
  return from->value() / into->value();
}

}  // namespace

Result<Bounds> bounds_of(const Scale& scale, std::string_view unit) {
  Bounds bounds;
  if (!scale.units.empty()) bounds.unit = unit.empty() ? scale.units.front() : std::string(unit);
  const bool known = std::ranges::find(scale.units, bounds.unit) != scale.units.end();
  if (scale.units.empty() ? !unit.empty() : !known) {
    return fail(ErrorKind::kInvalid,
                "'" + std::string(unit) + "' is no unit of scale " + scale.code, {},
                "use a unit of this scale");
  }
  switch (scale.kind) {
    case ScaleKind::kText:
    case ScaleKind::kLabel:
      return bounds;
    case ScaleKind::kScore:
    case ScaleKind::kStages:
    case ScaleKind::kCounts:
    case ScaleKind::kReached:
      if (!scale.steps.empty()) {
        bounds.lowest = scale.steps.front().value;
        bounds.highest = scale.steps.back().value;
      }
      return bounds;
    case ScaleKind::kShares:
    case ScaleKind::kCells:
      bounds.lowest = 0;
      bounds.highest = 100;
      return bounds;
    case ScaleKind::kPercent:
      bounds.lowest = scale.minimum;
      bounds.highest = scale.maximum;
      return bounds;
    case ScaleKind::kLength:
    case ScaleKind::kMass:
      break;
  }
  const auto factor =
      in_unit(scale.kind, scale.units.empty() ? "" : scale.units.front(), bounds.unit);
  if (!factor) return std::unexpected(factor.error());
  if (scale.minimum) bounds.lowest = *scale.minimum * *factor;
  if (scale.maximum) bounds.highest = *scale.maximum * *factor;
  return bounds;
}

}  // namespace ligule::checks
