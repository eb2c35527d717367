// Whether a rating takes percent stand: what Practice is for.
#pragma once

#include <algorithm>

#include "storage/checks/history.h"
#include "storage/trial/plan.h"

namespace ligule::flow {

[[nodiscard]] inline bool is_stand_rating(const PlanOccasion& occasion) {
  return occasion.job == Job::kRate &&
         std::ranges::find(occasion.measures, checks::kPercentStand) != occasion.measures.end();
}

}  // namespace ligule::flow
