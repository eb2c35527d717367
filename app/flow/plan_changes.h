// What a revised plan changes, told before it is taken in. Pure; used by views.
#pragma once

#include <string>
#include <vector>

#include "app/flow/views_common.h"
#include "storage/trial/plan.h"

namespace ligule::flow {

// One a line, words "plan.change." + what, arguments codes and dates as texts. No name of an entry
// is among them: whoever loads it may be about to rate blind. worked_on: codes of occasions that
// have values. Empty: the two say the same.
[[nodiscard]] std::vector<Words> plan_changes(const Plan& before, const Plan& after,
                                              const std::vector<std::string>& worked_on);

}  // namespace ligule::flow
