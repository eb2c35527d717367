// What a person is asked before something goes on: it lies over the screen until it is answered.
// Part of model.h.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "app/flow/views_common.h"
#include "storage/trial/calendar.h"
#include "storage/trial/identity.h"

namespace ligule::flow {

// A cutting that somebody opened before its day, and has not said to mean.
struct Early {
  TrialId trial;
  OccasionId occasion;
  int cutting = 0;
  CalendarDate due{};

  bool operator==(const Early&) const = default;
};

// A rating or cutting of a sprayed trial that somebody opened before people may go in again.
struct StayOut {
  TrialId trial;
  OccasionId occasion;
  NoEntryView spray;

  bool operator==(const StayOut&) const = default;
};

// Weights of one cutting that a check weight puts in doubt.
struct DoubtedCutting {
  OccasionId occasion;
  std::string trial;  // its code
  int cutting = 0;
  std::vector<std::string> plots;  // along the path
  std::vector<RecordId> weights;   // their claims; a plot may have several bags

  bool operator==(const DoubtedCutting&) const = default;
};
// A check weight was off: the weights since the last good one are in doubt.
struct Doubted {
  RecordId check;
  OccasionId occasion;  // that is open
  bool was = false;     // not just now: it is right again, or nobody answered then
  std::string off;      // what the scale says less the mass, with its unit
  std::string allowance;
  Stamp at{};                            // when it was checked
  std::vector<DoubtedCutting> cuttings;  // the one that is open first; may be none

  bool operator==(const Doubted&) const = default;
};

// A run is about to cut lower than what grows there bears.
struct LowStubble {
  std::string setting;  // as typed
  std::string least;    // with its unit, the person's

  bool operator==(const LowStubble&) const = default;
};

// A block is about to be cut in two: by leaving, or by another machine than it was begun with.
struct Splitting {
  int block = 0;
  std::size_t open = 0;
  std::string machine;  // it was begun with; empty: somebody leaves

  bool operator==(const Splitting&) const = default;
};

// Two neighbours whose weights would each be as expected on the other.
struct Swapped {
  OccasionId occasion;
  std::string one;  // plots: the one just weighed, its neighbour
  std::string other;

  bool operator==(const Swapped&) const = default;
};
// The same left open: what was NOT SAVED came first, or another person took the tablet.
struct WaitingSwapped {
  Swapped asked;
  std::optional<PersonId> person;  // who was asked; empty: whoever holds the tablet

  bool operator==(const WaitingSwapped&) const = default;
};

// A rating or cutting that somebody wants to close while plots are open, or something is odd about
// how it was made.
struct Closing {
  TrialId trial;
  OccasionId occasion;
  std::vector<std::string> open;  // numbers along the plot path
  std::vector<ClosingLook> looks = {};
  bool second = false;  // only what this person rates as second person
  bool operator==(const Closing&) const = default;
};

}  // namespace ligule::flow
