#include "storage/trial/said.h"

#include "storage/trial/composite.h"
#include "storage/trial/details.h"
#include "storage/trial/sample_bag.h"
#include "storage/trial/unit_names.h"

namespace ligule::said {

std::string still_said(std::string_view details) {
  Details kept;
  for (const std::string_view key :
       {kWeeds, kBagKind, sample_bag::kOvenCelsius, sample_bag::kOvenHours}) {
    std::string value = detail(details, std::string(key));
    if (!value.empty()) kept[std::string(key)] = std::move(value);
  }
  return details_text(kept);
}

bool weeds_only(std::string_view details) {
  return detail(details, std::string(kWeeds)) == kOnly;
}

bool zero_confirmed(std::string_view details) {
  return detail(details, std::string(kZero)) == kConfirmed;
}

bool closes_second(const Record& closed) {
  return detail(closed.details, std::string(kClosedAs)) == kSecond;
}

std::optional<Kilograms> mass_of(const Record& record) {
  const std::optional<double> value = record.value;
  if (!value) return std::nullopt;
  const auto mass = mass_in(*value, record.unit);
  return mass ? std::optional(*mass) : std::nullopt;
}

bool the_same(const Record& a, const Record& b) {
  if (a.state != b.state || a.value != b.value || a.unit != b.unit) return false;
  if (a.measure == measure::kGrossWeight && weeds_only(a.details) != weeds_only(b.details))
    return false;
  const bool by_value =
      a.value.has_value() && !is_composite_text(a.entered) && !is_composite_text(b.entered);
  return by_value || a.entered == b.entered;
}

}  // namespace ligule::said
