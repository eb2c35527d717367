// What each plot was given last of a measure in other ratings and cuttings, and what it was given
// in this one: for a sheet that somebody takes into the field.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <utility>

#include "storage/ledger/ledger.h"
#include "storage/trial/plan.h"

namespace ligule::results {

struct LastSeen {
  std::string text;  // "85", "R3", "12.3" of several heights, "60+25+15"; of a date the day
  std::string unit;  // empty: none
  CalendarDate on{};

  bool operator==(const LastSeen&) const = default;
};

using PlotMeasure = std::pair<Uuid, std::string>;

struct Seen {
  std::map<PlotMeasure, LastSeen> last;
  // Given in this occasion already, what was said to be missing too, not what was put off or, of a
  // date, not reached yet. What it was is not told: nobody rates a plot knowing what others saw.
  std::set<PlotMeasure> given;
};

// From first values only: second looks and practice do not count, nor what is on hold or in
// conflict, nor what a plot was given before it came to hold something else. Words and bags are no
// such values. Errors: those of reading the ledger.
[[nodiscard]] Result<Seen> last_seen(const ledger::Ledger& ledger, const Plan& plan,
                                     const PlanOccasion& occasion);

}  // namespace ligule::results
