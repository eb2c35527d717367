#include "storage/trial/yield.h"

namespace ligule {

Result<DryMatterFraction> dry_matter_fraction(Kilograms fresh_gross, Kilograms dry_gross,
                                              Kilograms tare) {
  if (tare < Kilograms(0))
    return fail(ErrorKind::kRefused, "the bag's tare is below zero", {},
                "weigh the empty bag again");
  const Kilograms fresh = fresh_gross - tare;
  const Kilograms dry = dry_gross - tare;
  if (!(fresh > Kilograms(0))) {
    return fail(ErrorKind::kRefused, "the fresh sample weighs no more than its bag", {},
                "check the fresh weight and the tare");
  }
  if (!(dry > Kilograms(0))) {
    return fail(ErrorKind::kRefused, "the dried sample weighs no more than its bag", {},
                "check the dried weight and the tare");
  }
  if (dry > fresh) {
    return fail(ErrorKind::kRefused, "the dried sample weighs more than the fresh one", {},
                "check both weights and the bag number");
  }
  return DryMatterFraction(dry / fresh);
}

Result<KilogramsPerHectare> dry_matter_yield(Kilograms fresh_net, DryMatterFraction fraction,
                                             SquareMetres harvested) {
  if (!(fresh_net >= Kilograms(0))) {  // says no to NaN as well
    return fail(ErrorKind::kRefused, "the plot weighs less than its tare", {},
                "check the gross weight and the tare");
  }
  if (!(harvested > SquareMetres(0))) {
    return fail(ErrorKind::kRefused, "the harvested area is not above zero", {},
                "check swath length and width");
  }
  // 1 kg/m2 is 10000 kg/ha; the whole factor comes last but one, so that round areas keep round
  // answers.
  return KilogramsPerHectare(fresh_net.value() * fraction.value() * 10000.0 / harvested.value());
}

}  // namespace ligule
