#include "storage/trial/seed.h"

#include "storage/trial/number.h"

namespace ligule {
namespace {

constexpr std::string_view kPoundsPerAcre = "lb/acre";
constexpr std::string_view kKilogramsPerHectare = "kg/ha";

KilogramsPerHectare rate_of(double value, std::string_view unit) {
  return unit == kPoundsPerAcre ? convert<KilogramsPerHectare>(PoundsPerAcre(value))
                                : KilogramsPerHectare(value);
}

}  // namespace

Result<KilogramsPerHectare> sowing_rate(std::string_view number, std::string_view unit) {
  const auto value = parse_number(number);
  if (!value || *value <= 0)
    return fail(ErrorKind::kInvalid, "'" + std::string(number) + "' is no sowing rate", {},
                "write a number above zero");
  if (unit != kPoundsPerAcre && unit != kKilogramsPerHectare)
    return fail(ErrorKind::kInvalid, "'" + std::string(unit) + "' is no unit of a sowing rate", {},
                "use lb/acre or kg/ha");
  return rate_of(*value, unit);
}

double rate_in(KilogramsPerHectare rate, std::string_view unit) {
  return unit == kPoundsPerAcre ? convert<PoundsPerAcre>(rate).value() : rate.value();
}

KilogramsPerHectare SpeciesSeed::lowest() const {
  return rate_of(usual_from, unit);
}
KilogramsPerHectare SpeciesSeed::highest() const {
  return rate_of(usual_to, unit);
}

std::string SpeciesSeed::usual() const {
  std::string text = format_number(usual_from);
  if (usual_to > usual_from) text += " to " + format_number(usual_to);
  return text + " " + unit;
}

}  // namespace ligule
