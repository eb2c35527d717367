#include "sync/desk/soil_told.h"

#include "storage/checks/soil_verdict.h"

namespace ligule::desk {

void tell_soil(const Plan& plan, const SoilTables& tables, const Definitions& definitions,
               Console& console) {
  const auto verdicts = checks::soil_verdicts(plan, tables, definitions);
  for (const checks::SoilVerdict& verdict : verdicts)
    console.out << "soil: " << verdict.line() << '\n';
  if (!verdicts.empty()) console.out << "soil: " << checks::kNoFertilizerAmounts << '\n';
}

}  // namespace ligule::desk
