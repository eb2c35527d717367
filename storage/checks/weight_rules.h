// Rules that hold a plot's and its sample's weights against each other and against what was weighed
// before. Used by rules.cc; whoever judges a value goes through judge().
#pragma once

#include "storage/checks/rules.h"

namespace ligule::checks {

// Shown, not kept: what was converted to another unit needs no more than three decimals.
[[nodiscard]] std::string number_shown(double number);

// Every other function: the arguments of the rule's text, empty where it has nothing to say. They
// say in weight_rules.cc what their arguments are.

std::optional<std::vector<std::string>> gross_under_tare(const Candidate& candidate,
                                                         const Result<EnteredValue>& value,
                                                         const Plan& plan, const History& history);
std::optional<std::vector<std::string>> same_weight(const Candidate& candidate,
                                                    const Result<EnteredValue>& value,
                                                    const Plan& plan, const History& history);
std::optional<std::vector<std::string>> weighed_twice(const Candidate& candidate,
                                                      const Result<EnteredValue>& value,
                                                      const Plan& plan, const History& history);
std::optional<std::vector<std::string>> tare_differs(const Candidate& candidate,
                                                     const Result<EnteredValue>& value,
                                                     const Plan& plan, const History& history);
std::optional<std::vector<std::string>> sample_under_bag(const Candidate& candidate,
                                                         const Result<EnteredValue>& value,
                                                         const Plan& plan, const History& history);
std::optional<std::vector<std::string>> dry_over_fresh(const Candidate& candidate,
                                                       const Result<EnteredValue>& value,
                                                       const Plan& plan, const History& history);
std::optional<std::vector<std::string>> dry_under_bag(const Candidate& candidate,
                                                      const Result<EnteredValue>& value,
                                                      const Plan& plan, const History& history);

}  // namespace ligule::checks
