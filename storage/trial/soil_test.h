// What a laboratory found in the soil of a trial: one row a property.
#pragma once

#include <optional>
#include <string>

#include "storage/trial/calendar.h"

namespace ligule {

// As the report of the laboratory has it. What a number means depends on unit, extractant and
// depth, so they stand with it and nothing is converted here.
struct SoilTest {
  std::string property;    // "ph", "p", "k" ...: a code of assets/soil.json
  std::string value;       // a number
  std::string unit;        // "ppm", "lb/acre" ...; empty for pH
  std::string extractant;  // "mehlich_3", "bray_p1" ...; empty: not said
  std::string depth;       // how deep the samples were taken, a number
  std::string depth_unit;
  std::string lab;
  std::optional<CalendarDate> sampled;

  bool operator==(const SoilTest&) const = default;
};

}  // namespace ligule
