#include "app/flow/amounts.h"

#include <algorithm>
#include <cmath>

#include "storage/checks/limits.h"
#include "storage/trial/number.h"

namespace ligule::flow {
namespace {

constexpr int kMostChoices = 12;
constexpr double kSlack = 1e-9;  // steps like 0.1 are not exact in binary

// count x step as text, free of the noise of the multiplication.
std::string multiple(long long count, double step) {
  const std::string text = format_number(step);
  const std::size_t point = text.find('.');
  const int decimals = point == std::string::npos ? 0 : static_cast<int>(text.size() - point - 1);
  const std::string fixed = format_fixed(static_cast<double>(count) * step, std::min(decimals, 9));
  const auto back = parse_number(fixed);
  return back ? format_number(*back) : fixed;  // "3", not "3.0"
}

bool own_unit(const Scale& scale, std::string_view unit) {
  return scale.units.empty() || unit.empty() || unit == scale.units.front();
}

}  // namespace

std::vector<std::string> choices_of(const Scale& scale, std::string_view unit) {
  const auto bounds = checks::bounds_of(scale, unit);
  if (!bounds) return {};
  const double lowest = bounds->lowest.value_or(0.0);
  std::vector<std::string> choices;
  if (scale.kind == ScaleKind::kPercent || scale.kind == ScaleKind::kShares) {
    const auto first = static_cast<long long>(std::ceil(lowest / scale.step - kSlack));
    const auto last =
        static_cast<long long>(std::floor(bounds->highest.value_or(100.0) / scale.step + kSlack));
    for (long long at = first; at <= last; ++at) choices.push_back(multiple(at, scale.step));
    return choices;
  }
  if (scale.kind != ScaleKind::kLength && scale.kind != ScaleKind::kMass) return choices;
  const double step = own_unit(scale, unit) ? scale.step : 1.0;
  const std::optional<double> highest = bounds->highest;
  for (long long at = 1; at <= kMostChoices; ++at) {
    const double value = static_cast<double>(at) * step;
    if (value + kSlack < lowest || (highest && value > *highest + kSlack)) continue;
    choices.push_back(multiple(at, step));
  }
  return choices;
}

std::vector<std::string> fine_choices_of(const Scale& scale, std::string_view around) {
  const auto middle = parse_number(around);
  if (!middle || scale.kind != ScaleKind::kPercent) return {};
  const double lowest = scale.minimum.value_or(0.0);
  const double highest = scale.maximum.value_or(100.0);
  const auto reach = std::llround(scale.step / scale.fine_step);
  const auto centre = std::llround(*middle / scale.fine_step);
  std::vector<std::string> choices;
  for (long long at = centre - reach; at <= centre + reach; ++at) {
    const double value = static_cast<double>(at) * scale.fine_step;
    if (value < lowest - kSlack || value > highest + kSlack) continue;
    choices.push_back(multiple(at, scale.fine_step));
  }
  return choices;
}

bool has_fine(const Scale& scale) {
  return scale.kind == ScaleKind::kPercent && scale.fine_step + kSlack < scale.step;
}

std::vector<Stretch> stretches_of(const Scale& scale) {
  std::vector<Stretch> stretches;
  if (!has_fine(scale)) return stretches;
  const double lowest = scale.minimum.value_or(0.0);
  const double highest = scale.maximum.value_or(100.0);
  // Each begins where the one before ends, so that every fine step is on some stretch.
  const auto first = std::llround(lowest / scale.step);
  for (long long at = first + 1; static_cast<double>(at - 1) * scale.step < highest - kSlack;
       at += 2) {
    const double end = std::min(static_cast<double>(at + 1) * scale.step, highest);
    stretches.push_back(
        {multiple(at, scale.step), multiple(at - 1, scale.step) + "-" + format_number(end)});
  }
  return stretches;
}

std::string stepped(const Scale& scale, std::string_view unit, std::string_view text, int by) {
  const auto number = parse_number(text);
  // Half units suit hands that think in inches; the scale's own unit has its own finest step.
  const double step = own_unit(scale, unit) ? scale.fine_step : 0.5;
  const double steps = number ? *number / step : 0.0;
  const double from = by > 0 ? std::floor(steps + kSlack) : std::ceil(steps - kSlack);
  long long at = static_cast<long long>(from) + by;
  const auto bounds = checks::bounds_of(scale, unit);
  if (bounds) {
    const auto lowest =
        static_cast<long long>(std::ceil(bounds->lowest.value_or(0.0) / step - kSlack));
    at = std::max(at, lowest);
    const std::optional<double> highest = bounds->highest;
    if (highest) at = std::min(at, static_cast<long long>(std::floor(*highest / step + kSlack)));
  }
  return multiple(at, step);
}

}  // namespace ligule::flow
