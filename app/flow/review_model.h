// Pages of Review that need nothing of the occasion's book. Part of model.h.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/flow/keypad.h"
#include "app/flow/known.h"
#include "storage/trial/record.h"

namespace ligule::flow {

// A standing value that is being put right.
struct Mending {
  RecordId claim;
  Mend what = Mend::kCorrect;
  std::string chosen;  // a step of a scale with steps
  Keypad keypad;       // everything else
  bool operator==(const Mending&) const = default;
};
struct PlotHistory {
  std::string plot;
  bool loaded = false;
  std::vector<Record> records;  // newest first
  std::optional<Mending> mending;
  // Came from the questions: the value that is put right as soon as the history is read, and then
  // goes back there.
  std::optional<RecordId> question = {};
  bool operator==(const PlotHistory&) const = default;
};
struct ReviewMap {
  bool operator==(const ReviewMap&) const = default;
};
struct ReviewList {      // which occasion to look at
  bool against = false;  // beside the one looked at, to subtract
  bool operator==(const ReviewList&) const = default;
};
// What was asked about, one value after the other.
struct Questions {
  std::optional<RecordId> at;  // claim looked at; empty: the first
  bool operator==(const Questions&) const = default;
};

}  // namespace ligule::flow
