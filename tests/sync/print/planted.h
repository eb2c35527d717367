// A plan whose seed is known, for the tests of what is printed of it.
#pragma once

#include <string>
#include <vector>

#include "sync/print/sowing.h"
#include "tests/storage/trial/sample_plan.h"

namespace ligule::print {

// The germination, hard seed and purity of a published example: 95.06 % pure live seed
// (http://ec3grp.com/PLS-vs-bulk-seed.htm), sown at 15 lb/acre on 5 x 20 ft.
inline Plan planted() {
  Plan plan = sample_plan();
  for (PlanEntry& entry : plan.entries) {
    entry.germination = "92";
    entry.hard_seed = "5";
    entry.purity = "98";
    entry.sowing_rate = "15";
    entry.sowing_rate_unit = "lb/acre";
  }
  return plan;
}

inline const std::vector<SpeciesSeed> kFescue{{.species = "tall_fescue",
                                               .seeds_per_pound = SeedsPerPound(230000),
                                               .usual_from = 12,
                                               .usual_to = 14,
                                               .unit = "lb/acre",
                                               .source = "a book"}};

inline Sowing sown(const Plan& plan, const SowingWanted& wanted = {}) {
  return sowing_of(plan, kFescue, wanted).value();
}

}  // namespace ligule::print
