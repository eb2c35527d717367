#include "storage/trial/soil_amount.h"

#include "storage/trial/number.h"
#include "storage/trial/unit_names.h"

namespace ligule {
namespace {

// 15 cm are 5.91 in and 18 cm 7.09: both are what people call 6 and 7 in.
constexpr double kShallowest = 5.9;
constexpr double kDeepest = 7.1;
constexpr double kPoundsForAPpm = 2;
constexpr double kInchesOfIt = 6;

bool is_share(std::string_view unit) {
  return unit == "ppm" || unit == "mg/kg";
}

// What lies on an acre, in pounds; empty where the unit does not say it.
std::optional<double> pounds_an_acre(double value, std::string_view unit, double for_a_ppm) {
  if (is_share(unit)) return value * for_a_ppm;
  if (unit == "lb/acre") return value;
  if (unit == "kg/ha") return convert<PoundsPerAcre>(KilogramsPerHectare(value)).value();
  return std::nullopt;
}

}  // namespace

std::optional<double> sampled_inches(const SoilTest& test) {
  const auto depth = parse_number(test.depth);
  if (!depth || !(*depth > 0)) return std::nullopt;
  const auto length = length_in(*depth, test.depth_unit);
  return length ? std::optional(convert<Inches>(*length).value()) : std::nullopt;
}

bool is_furrow_slice(const std::optional<double>& inches) {
  return !inches || (*inches >= kShallowest && *inches <= kDeepest);
}

double pounds_for_a_ppm(const std::optional<double>& inches) {
  if (!inches || is_furrow_slice(inches)) return kPoundsForAPpm;
  return kPoundsForAPpm * *inches / kInchesOfIt;
}

std::optional<double> in_soil_unit(double value, std::string_view from, std::string_view to,
                                   const std::optional<double>& inches) {
  if (from == to || (is_share(from) && is_share(to))) return value;
  const double for_a_ppm = pounds_for_a_ppm(inches);
  const auto pounds = pounds_an_acre(value, from, for_a_ppm);
  if (!pounds) return std::nullopt;
  if (is_share(to)) return *pounds / for_a_ppm;
  if (to == "lb/acre") return pounds;
  if (to == "kg/ha") return convert<KilogramsPerHectare>(PoundsPerAcre(*pounds)).value();
  return std::nullopt;
}

}  // namespace ligule
