// Whether a plan's soil test can be meant: units, depth, dates, numbers that were mixed up.
#pragma once

#include "storage/files/plan_check.h"
#include "storage/trial/plan.h"
#include "storage/trial/soil_tables.h"

namespace ligule::files {

// Faults: a property that is not in the list, a unit that is none of the property's, a value beyond
// what can be, a depth that is not above zero or has no unit, a property stated twice for one day,
// depth and extractant (which of them counts nobody can tell).
// Notices: an amount without its unit or its extractant; a value that is unusual, with the mix-up
// of ppm and lb/acre, a factor of 2, where the unit fits that; of a property that has check values
// (P, K) a number of ppm that would be of its table's highest class as lb/acre already, so that it
// comes to twice that (common practice, no source; the classes have theirs); a depth outside 2 to
// 12 in (common practice, no source); no day of sampling, or one after sowing or more than 3 years
// before it. "New samples should be taken after 3 years": Penn State, soil test report for
// agronomic crops, agsci.psu.edu. What is said of a day is said once.
[[nodiscard]] PlanFindings check_soil(const Plan& plan, const SoilTables& tables,
                                      const PlanPlaces& places);

}  // namespace ligule::files
