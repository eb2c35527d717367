#include "storage/trial/said.h"

#include "storage/trial/details.h"
#include "storage/trial/sample_bag.h"

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

}  // namespace ligule::said
