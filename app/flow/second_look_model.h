// Plots that are rated a second time: by the same person, unannounced, or by another. Part of
// model.h.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "app/flow/known.h"

namespace ligule::flow {

// What a value belongs to within an occasion.
struct Slot {
  Uuid subject;  // plot, or first bag_number reading of a bag
  std::string measure;
  int part = 1;

  auto operator<=>(const Slot&) const = default;
};

// The present plot came back unannounced: nothing of its first value shows or counts meanwhile.
struct SecondLook {
  Uuid subject;           // the plot
  std::size_t after = 0;  // place along the path from where it goes on

  bool operator==(const SecondLook&) const = default;
};

// What of an open book is not of purpose survey.
struct Looks {
  std::optional<PersonId> rater;       // somebody rates as second person: the book holds their own
  std::map<Slot, KnownClaim> repeats;  // that stand, of anybody
  std::optional<SecondLook> look;
  // Place along the path whose stake is to be named, since the way led there from elsewhere.
  std::optional<std::size_t> stake;

  bool operator==(const Looks&) const = default;
};

// A rating that others rated is being opened: as what?
struct AsSecond {
  TrialId trial;
  OccasionId occasion;
  std::vector<std::string> raters;  // initials
  std::size_t plots = 0;            // that they rated
  std::size_t open = 0;             // that nobody did
  std::size_t own = 0;              // that this person rated as second already

  bool operator==(const AsSecond&) const = default;
};

}  // namespace ligule::flow
