// Rules about a subsample that is sorted by hand, and the reading of weights that rules share. Used
// by rules.cc; whoever judges a value goes through judge().
#pragma once

#include "storage/checks/rules.h"

namespace ligule::checks {

// The candidate as a weight, when it is one of this measure.
[[nodiscard]] std::optional<Kilograms> weight(const Candidate& candidate,
                                              const Result<EnteredValue>& value,
                                              std::string_view measure);

// Every function: the arguments of the rule's text, empty where it has nothing to say.

// Parts that are too heavy together can't become right by those still to come. Arguments: the parts
// in percent of the whole.
std::optional<std::vector<std::string>> parts_heavy(const Candidate& candidate,
                                                    const Result<EnteredValue>& value,
                                                    const Plan& plan, const History& history);
// All parts together are too light. Arguments as above.
std::optional<std::vector<std::string>> parts_light(const Candidate& candidate,
                                                    const Result<EnteredValue>& value,
                                                    const Plan& plan, const History& history);
// No arguments.
std::optional<std::vector<std::string>> separated_under_bag(const Candidate& candidate,
                                                            const Result<EnteredValue>& value,
                                                            const Plan& plan,
                                                            const History& history);

}  // namespace ligule::checks
