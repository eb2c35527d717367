// The Trials screen: what is on this tablet, and what really stands in the field. Used by update
// and views; not for other rooms.
#pragma once

#include <string_view>
#include <vector>

#include "app/flow/trials_codes.h"
#include "app/flow/turn.h"

namespace ligule::flow {

// The farthest back a date can be tapped; older ones are the desk's.
inline constexpr int kMostDaysAgo = 400;

// The whole of what is done on this screen; false: the intent is not of this screen.
bool in_trials(Turn& turn, const Intent& intent);
void show_trials(Turn& turn);

void trial_loaded(Turn& turn, TrialLoaded loaded);
void plans_found(Turn& turn, PlansFound found);
void plan_checked(Turn& turn, PlanChecked checked);
void plan_faulty(Turn& turn, PlanFaulty faulty);
// A statement, an event or a plan is kept: the model shows it.
void trials_kept(Turn& turn, const Act& act);

// The trial whose page is open; null: none is.
[[nodiscard]] const KnownTrial* trial_open(const Model& model, const Trials& trials);
// A record about a trial, and handing one over as an act of its own.
[[nodiscard]] Record about_trial(const Turn& turn, const KnownTrial& trial, std::string_view kind);
void keep_about(Turn& turn, ActKind kind, Record record);

// An event of the trial that is open; null: none of this id.
[[nodiscard]] const TrialEvent* event_with(const Trials& trials, RecordId id);
// It stands, nobody is about to take it back, and something can be kept.
[[nodiscard]] bool can_take_back(const Model& model, const TrialEvent& event);
[[nodiscard]] CalendarDate day_before(CalendarDate day, int days);
// Ratings and cuttings of this year or a later one. Values can be given or put right in all of
// them, finished and closed ones too, and should be given blind: their entries stay unnamed.
[[nodiscard]] std::vector<OccasionId> blind_occasions(const Model& model, const KnownTrial& trial);
// Whether names are shown: every occasion is of a past year, or the person unlocked the others.
[[nodiscard]] bool names_free(const Model& model, const KnownTrial& trial);

}  // namespace ligule::flow
