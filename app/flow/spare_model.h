// When the ledger is copied for a spare tablet to go on from. Part of model.h.
#pragma once

#include <optional>
#include <set>
#include <utility>

#include "storage/trial/calendar.h"
#include "storage/trial/identity.h"

namespace ligule::flow {

// See spare.h.
struct SpareWatch {
  bool running = false;
  std::optional<UtcInstant> waiting;  // since when something is kept that no copy was begun of
  std::optional<UtcInstant> begun;    // the copy begun last
  std::set<std::pair<OccasionId, int>> blocks;  // that were whole and copied
  bool failed = false;                          // the last could not be made

  bool operator==(const SpareWatch&) const = default;
};

}  // namespace ligule::flow
