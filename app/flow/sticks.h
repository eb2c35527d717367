// Plans on sticks and cards: offered as soon as one is put in, all sound new ones taken in by one
// tap; what would change a plan that is here is told first. Used by update and views.
#pragma once

#include <string>
#include <vector>

#include "app/flow/turn.h"

namespace ligule::flow {

// A stick came or went: what it holds is looked at where a person may act on it.
void sticks_changed(Turn& turn);
// Takes in every sound new plan in one act: all or none.
void load_sticks(Turn& turn);
// What sticks hold beside: one changed plan at once, else all there is.
void show_stick(Turn& turn);
// Plans are kept: says so, and reads anew what follows from them.
void plans_kept(Turn& turn, const Act& act);
// Every trial as the ledger has it; those that are known keep their place.
void plans_known(Model& model, PlansKnown known);

// That it is taken in, behind the revisions that lead to it.
void add_plan_records(const Turn& turn, const CheckedPlan& checked, std::vector<Record>& records);
[[nodiscard]] StickView stick_view(const Model& model);
// Folders that were found, each that holds an older plan behind the others, with the newer's name.
[[nodiscard]] std::vector<PlanFolder> newest_first(const StickPlans& stick,
                                                   std::vector<PlanFolder> folders);
// A plan that was read, as it is told before it is taken in.
[[nodiscard]] PlanCheckedView plan_told(const Model& model, const CheckedPlan& checked);
// Codes of the trial's occasions that have values, as Today tells.
[[nodiscard]] std::vector<std::string> worked_on(const Model& model, const Plan& plan);

}  // namespace ligule::flow
