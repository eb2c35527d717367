#include "storage/trial/unit_names.h"

#include <string>

namespace ligule {
namespace {

std::unexpected<Error> unknown(std::string_view unit, const char* what, const char* known) {
  return fail(ErrorKind::kInvalid, "'" + std::string(unit) + "' is not a unit of " + what, {},
              std::string("use one of ") + known);
}

}  // namespace

Result<Kilograms> mass_in(double value, std::string_view unit) {
  if (unit == "kg") return Kilograms(value);
  if (unit == "g") return convert<Kilograms>(Grams(value));
  if (unit == "lb") return convert<Kilograms>(Pounds(value));
  if (unit == "oz") return convert<Kilograms>(Ounces(value));
  return unknown(unit, "weight", "kg, g, lb, oz");
}

Result<Metres> length_in(double value, std::string_view unit) {
  if (unit == "m") return Metres(value);
  if (unit == "cm") return convert<Metres>(Centimetres(value));
  if (unit == "ft") return convert<Metres>(Feet(value));
  if (unit == "in") return convert<Metres>(Inches(value));
  return unknown(unit, "length", "m, cm, ft, in");
}

Result<double> yield_in(KilogramsPerHectare yield, std::string_view unit) {
  if (unit == "kg/ha") return yield.value();
  if (unit == "Mg/ha") return convert<MegagramsPerHectare>(yield).value();
  if (unit == "lb/acre") return convert<PoundsPerAcre>(yield).value();
  if (unit == "ton/acre") return convert<TonsPerAcre>(yield).value();
  return unknown(unit, "yield", "ton/acre, lb/acre, kg/ha, Mg/ha");
}

bool is_yield_unit(std::string_view unit) {
  return yield_in(KilogramsPerHectare(0), unit).has_value();
}

}  // namespace ligule
