// From weights to yield: the dry-matter fraction of a sample and the dry matter an area gave.
//
// Formulas (common practice in the trade; worked examples in tests/published):
//   fraction = (dried gross - tare) / (fresh gross - tare)
//   yield    = (plot gross - plot tare) x fraction / harvested area
#pragma once

#include <compare>

#include "storage/trial/error.h"
#include "storage/trial/quantity.h"

namespace ligule {

// Share of a fresh weight that is dry matter, above 0 and at most 1. Moisture (wet basis) is 1
// minus this.
class DryMatterFraction {
 public:
  constexpr explicit DryMatterFraction(double fraction) : fraction_(fraction) {}
  [[nodiscard]] constexpr double value() const { return fraction_; }
  [[nodiscard]] constexpr double percent() const { return 100.0 * fraction_; }
  [[nodiscard]] constexpr double moisture_percent() const { return 100.0 - percent(); }
  auto operator<=>(const DryMatterFraction&) const = default;

 private:
  double fraction_;
};

// All three weighed with the same bag; tare is that bag empty. kRefused when the fresh sample
// weighs nothing net, when the dried one does not weigh more than the tare, or when it weighs more
// than the fresh one.
[[nodiscard]] Result<DryMatterFraction> dry_matter_fraction(Kilograms fresh_gross,
                                                            Kilograms dry_gross, Kilograms tare);

// Dry matter per area of a harvested strip. The net fresh weight may be zero (nothing above the
// bar), never negative; the area must be above zero. kRefused otherwise.
[[nodiscard]] Result<KilogramsPerHectare> dry_matter_yield(Kilograms fresh_net,
                                                           DryMatterFraction fraction,
                                                           SquareMetres harvested);

}  // namespace ligule
