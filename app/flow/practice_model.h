// Practice before a rating: ten drawn stands of known percent. Part of model.h.
#pragma once

#include <string>
#include <vector>

#include "storage/trial/record.h"

namespace ligule::flow {

// A set of stands that somebody rates, one after the other.
struct PracticeSet {
  Uuid id;  // subject of its answers
  TrialId trial;
  OccasionId occasion;  // the rating it is for
  CalendarDate day{};
  int round = 0;  // of the person's sets of that day, from 1
  std::string seed;
  std::vector<int> drawn;       // percents
  std::vector<Record> answers;  // readings, one a stand, in order

  bool operator==(const PracticeSet&) const = default;
};
struct OnPractice {
  TrialId trial;
  OccasionId occasion;
  bool operator==(const OnPractice&) const = default;
};

}  // namespace ligule::flow
