// What the pads of several numbers ask for: frames, shares, counted stages, dates reached.
#pragma once

#include <string>
#include <type_traits>

namespace ligule::flow {

// --- a frame of cells
struct TapCell {  // a plant is in it, or it is not: turned over. From 0, row by row
  int cell = 0;
};
struct NextPlacement {};  // this placement is counted; the last one keeps the whole act

// --- parts of a whole
struct FocusShare {  // the tiles speak of this part now
  std::string part;
};
struct SetShare {  // of the part the tiles speak of, percent
  std::string entered;
};

struct StepShare {  // the share stated last, one step less or more
  int by = 1;
};

// --- counted stages
struct CountStage {  // one more stem or tiller at it
  std::string stage;
};

// --- all that is gathered before it is kept
struct DropLast {};  // the last height, tap or placement
struct KeepGathered {};

// --- dates reached
struct MarkReached {  // today; tapped again the same day: taken back
  std::string plot;
};
struct OthersNotYet {};  // every plot of the block shown without a word of today
struct ShowBlock {
  int block = 0;
};

template <class Kind, class... Kinds>
concept OneOf = (std::is_same_v<Kind, Kinds> || ...);
template <class Kind>
concept PadIntent = OneOf<Kind, TapCell, NextPlacement, FocusShare, SetShare, StepShare, CountStage,
                          DropLast, KeepGathered, MarkReached, OthersNotYet, ShowBlock>;

}  // namespace ligule::flow
