// Which stake a person sees, and what a scanner sends. Part of the model.
#pragma once

#include <string>

#include "app/flow/keypad.h"
#include "storage/trial/calendar.h"
#include "storage/trial/identity.h"

namespace ligule::flow {

// What a person said when the program asked which stake they see, or a stake they went to of
// themselves.
struct StakeAnswer {
  PersonId person;
  OccasionId occasion;
  Stamp at;
  std::string asked;      // where the program was; empty: nobody was asked
  std::string named;      // the number they see
  bool answered = false;  // to the question

  bool operator==(const StakeAnswer&) const = default;
};
// What came into a field since the last pause; perhaps from a scanner.
struct Scanned {
  UtcInstant from{}, last{};  // of its first letter and the last one
  std::string text;
  Keypad before;         // the field as it was
  bool by_hand = false;  // Weighing::by_hand as it was
  bool held = false;     // the field can't take it: what came of it was taken out again

  bool operator==(const Scanned&) const = default;
};
// How a stake is being named that is none of those offered.
struct StakeEntry {
  bool other = false;  // its number is being typed
  Keypad keypad{Field::kPlot};

  bool operator==(const StakeEntry&) const = default;
};
// Values that may belong to other plots: a person stands elsewhere than the program thought.
struct Slipped {
  std::string from;  // first and last plot along the path that got a value since they agreed
  std::string to;
  int by = 0;            // places along the path that the values would have to go on
  std::string expected;  // where the program was

  bool operator==(const Slipped&) const = default;
};

}  // namespace ligule::flow
