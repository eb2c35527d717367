#include "storage/checks/drying.h"

#include <algorithm>

#include "storage/trial/number.h"

namespace ligule::checks {
namespace {

OvenFinding judge_celsius(std::string_view text) {
  if (text.empty()) return OvenFinding::kUsual;
  const Result<double> celsius = parse_number(text);
  if (!celsius) return OvenFinding::kNoNumber;
  if (*celsius < 35 || *celsius > 110) return OvenFinding::kImpossible;
  const bool usual = (*celsius >= 55 && *celsius <= 70) || (*celsius >= 100 && *celsius <= 105);
  return usual ? OvenFinding::kUsual : OvenFinding::kUnusual;
}

OvenFinding judge_hours(std::string_view text) {
  if (text.empty()) return OvenFinding::kUsual;
  const Result<double> hours = parse_number(text);
  if (!hours) return OvenFinding::kNoNumber;
  if (*hours <= 0) return OvenFinding::kImpossible;
  return *hours < 24 ? OvenFinding::kUnusual : OvenFinding::kUsual;
}

}  // namespace

std::optional<double> loss_per_hundred(Kilograms before, Kilograms now,
                                       std::optional<Kilograms> fresh, Kilograms tare) {
  const Kilograms of = fresh.value_or(before) - tare;
  if (!(of > Kilograms(0))) return std::nullopt;
  return 100.0 * ((before - now) / of);
}

bool is_constant(double loss) {
  return loss < kLeastLoss;
}

OvenFinding judge_oven(std::string_view celsius, std::string_view hours) {
  const OvenFinding heat = judge_celsius(celsius);
  const OvenFinding time = judge_hours(hours);
  for (const OvenFinding worst : {OvenFinding::kNoNumber, OvenFinding::kImpossible}) {
    if (heat == worst || time == worst) return worst;
  }
  return std::max(heat, time);
}

}  // namespace ligule::checks
