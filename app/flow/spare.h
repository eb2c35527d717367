// Copies of the ledger on cards and sticks while people work, for a spare tablet to go on from, and
// going on from such a copy. For this room only.
#pragma once

#include "app/flow/turn.h"

namespace ligule::flow {

// A tablet that falls into the tank takes no more than this with it, where a card is in it.
inline constexpr std::chrono::minutes kCopyEvery{15};

// After a kept act: a copy at once where it made a block whole, else in its time.
void copy_after(Turn& turn, const Act& act);
// A copy where something waits for one and the last was begun long enough ago.
void copy_in_time(Turn& turn);
// Of what was kept before the program was started no copy may have been made.
void wait_for_copy(const Turn& turn);
void ledger_copied(Turn& turn, const LedgerCopied& outcome);

// The ledger holds more than this tablet wrote: trials and people are those of `start`.
void start_anew(Turn& turn, Started start);
void offer_copy(Trials& trials, const std::string& path);
void go_on_from_copy(Turn& turn, Trials& trials);
void taken_over(Turn& turn, TakenOver outcome);
void not_taken_over(Turn& turn, const NotTakenOver& outcome);

}  // namespace ligule::flow
