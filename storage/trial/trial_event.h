// What happened to a trial, and what was taken back of it (sync/seal/FORMAT.md section 5).
#pragma once

#include <optional>
#include <string_view>
#include <vector>

#include "storage/trial/record.h"

namespace ligule {

// What the program notes of a person who saw the names of entries. It can't be taken back.
inline constexpr std::string_view kNamesShown = "names_shown";

// Mowing of ledgers from before a clipping was told apart from it.
inline constexpr std::string_view kMowing = "mowing";

struct TrialEvent {
  Record record;
  std::optional<Record> taken_back;  // the withdrawal; of several the first by time, then id

  bool operator==(const TrialEvent&) const = default;
};

// Whether the record is a withdrawal of an event: of no slot, without any part of a value.
[[nodiscard]] bool takes_event_back(const Record& record);

// The events among the records, in their order, each with what takes it back. The place of a
// withdrawal among them does not matter; one of another trial than the event's does nothing.
[[nodiscard]] std::vector<TrialEvent> trial_events(const std::vector<Record>& records);

}  // namespace ligule
