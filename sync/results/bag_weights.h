// What is known of a sample bag: which one a number names, and what it weighs.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/quantity.h"
#include "sync/results/settled.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

enum class SampleState {
  kGood,
  kLost,       // no fraction will come of it: burst, lost, never weighed and given up
  kWaiting,    // a weight is still to come: in the oven, the fresh one at a second scale
  kUndecided,  // weights that can't be used until a person corrects or settles them
};

// A weight of one bag, or what an empty one weighs.
struct BagWeight {
  SampleState state = SampleState::kWaiting;
  Kilograms mass{0.0};  // kGood only
  std::string why;      // not kGood
  std::string mend;     // kUndecided: what a person can do about it
};

// The bag a standing number names, or why no one bag can be meant.
struct NamedBag {
  std::optional<RecordId> bag;
  std::string why;
  std::string mend;
};

class SampleBags {
 public:
  // Both outlive it.
  SampleBags(const TrialFacts& trial, const SettledValues& settled);

  // `name` is what a person calls the weight: "dried sample weight". What it rests on goes into
  // `records`.
  [[nodiscard]] BagWeight weight(RecordId bag, std::string_view measure, const std::string& name,
                                 std::vector<RecordId>& records) const;
  // Of this bag where it was weighed, else as the plan states it.
  [[nodiscard]] BagWeight tare(RecordId bag, const std::string& name,
                               std::vector<RecordId>& records) const;
  // As the plan states it.
  [[nodiscard]] BagWeight planned_tare() const;

  // The bag is named by the reading that first gave it its number, whatever the number became; its
  // weights are recorded about that.
  [[nodiscard]] NamedBag named_by(const Settled& number) const;

 private:
  void first_readings(RecordId id, std::set<RecordId>& seen, std::set<RecordId>& first) const;

  const TrialFacts& trial_;
  const SettledValues& settled_;
  std::map<RecordId, const Record*> numbers_;
};

}  // namespace ligule::results
