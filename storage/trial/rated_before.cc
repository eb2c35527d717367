#include "storage/trial/rated_before.h"

#include <algorithm>

namespace ligule {

bool still_says(CalendarDate rated, CalendarDate on, std::span<const AsSown> as_sown, PlotId plot) {
  if (rated.year() != on.year()) return false;
  const auto sown = std::ranges::find(as_sown, plot, &AsSown::plot);
  return sown == as_sown.end() || sown->status == AsSownStatus::kAsPlanned || sown->since < rated ||
         sown->since > on;
}

}  // namespace ligule
