// Closing a rating or cutting. Used by update; not for other rooms.
#pragma once

#include "app/flow/turn.h"

namespace ligule::flow {

// The one on the screen is over. What is still open is asked about once; with nothing open, or
// after it was said, it is over at once.
void declare_done(Turn& turn);
// The same for an occasion that Day's end lists.
void close_occasion(Turn& turn, const CloseOccasion& intent);
// Takes in what was read for it; false: it was not.
bool looked_before_closing(Turn& turn, const OccasionLoaded& loaded);
void answer_closing(Turn& turn, const AnswerClosing& intent);

}  // namespace ligule::flow
