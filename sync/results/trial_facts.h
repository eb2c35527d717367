// What the results need to know of one trial, gathered from a ledger as plain values.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "storage/ledger/ledger.h"
#include "storage/trial/plan.h"
#include "storage/trial/record.h"
#include "storage/trial/scale.h"
#include "storage/trial/trial_event.h"

namespace ligule::results {

struct TrialFacts {
  Plan plan;                            // the one in force
  std::vector<ledger::Claim> claims;    // Ledger::claims() of the trial
  std::vector<Record> bag_numbers;      // every record that numbers a bag, standing or not
  std::vector<Record> as_sown;          // every record of that kind
  std::vector<Record> runs;             // every harvest_run record
  std::map<std::string, Scale> scales;  // by the digest that records carry
  std::vector<TrialEvent> events = {};  // Ledger::events() of the trial
  std::vector<Record> checks = {};      // every check_weight record of the trial
  std::vector<Record> closings = {};    // every closed record of the trial
  // When a weight from a scale hung there, of claims that only restate it.
  std::map<RecordId, Stamp> weighed = {};
  // Who judged, of claims that only restate what somebody said before (a slide, a settlement).
  std::map<RecordId, std::optional<PersonId>> raters = {};
  // What older revisions of the plan call ratings and cuttings that the one in force has not, of
  // claims that were made at them.
  std::map<OccasionId, std::string> dropped = {};

  // "2026-fall", "2026 cutting 2"; where no revision that is held names it, the day of its first
  // claim.
  [[nodiscard]] std::string dropped_name(OccasionId occasion) const;
  // How many standing survey claims of a measure there are at one.
  [[nodiscard]] std::size_t values_at(OccasionId occasion, std::string_view measure) const;
};

// The name results call each trial by: its code, with the site's (and the station's) in front where
// the code alone would name two. In the order of `trials`.
[[nodiscard]] std::vector<std::string> test_names(const std::vector<TrialFacts>& trials);

// What a plot held on a day. Statements count from their date on, the newest of them; a date that
// two statements share belongs to the one recorded later.
struct Held {
  const PlanEntry* entry = nullptr;  // of the plan; null: the plot is out of results
  std::string why;                   // out of results: "the plot was abandoned on 2026-07-01"
};
[[nodiscard]] Held held_on(const TrialFacts& trial, const PlanPlot& plot, CalendarDate day);
// Whether the plan has a rating or cutting for what the plot held on that day; of a plot that held
// nobody knows what, for what was planned on it.
[[nodiscard]] bool is_for(const TrialFacts& trial, const PlanOccasion& occasion,
                          const PlanPlot& plot, CalendarDate day);

}  // namespace ligule::results
