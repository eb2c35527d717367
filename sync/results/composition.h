// Botanical composition of plots at a cutting: what a hand-separated subsample holds, by dry
// weight.
//
//   percent of a part = 100 x dry weight of the part / dry weight of all parts
//
// Source: University of Arizona, Species Data from Other Attributes (rangelandsgateway.org):
// composition of a species is its biomass over that of all species. All five parts (composition.h
// of trial) must be stated; one in the oven is waited for, one that is lost leaves no composition.
#pragma once

#include <array>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "storage/trial/composition.h"
#include "sync/results/bag_weights.h"
#include "sync/results/plot_value.h"
#include "sync/results/settled.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

template <class What>
using ByPart = std::array<What, composition::kPartCount>;

struct Composition {
  SampleState state = SampleState::kWaiting;
  ByPart<std::optional<Kilograms>> dry;  // bags taken off; 0: nothing of that part
  ByPart<double> percent{};              // of the dry matter, kGood only
  std::optional<Kilograms> whole;        // fresh, before it was sorted
  std::optional<Kilograms> fresh;        // all parts fresh; empty: one was not weighed
  std::vector<std::string> bags;         // numbers on them
  std::string why;                       // not kGood
  std::string mend;                      // kUndecided: what a person can do about it
  std::vector<RecordId> records;         // it rests on

  // Share of the dry matter that was sown, 0 to 1; kGood only.
  [[nodiscard]] double sown_share() const;
  // The fresh parts in percent of the whole; empty: that was not weighed.
  [[nodiscard]] std::optional<double> parts_percent() const;
};
// Nothing where no subsample was separated.
[[nodiscard]] std::optional<Composition> composition_of(const TrialFacts& trial,
                                                        const SettledValues& settled,
                                                        const PlanPlot& plot, OccasionId cutting);

// Percent of each part in the dry matter of an entry at a cutting: the mean over its plots with a
// composition.
struct EntryComposition {
  std::string test;
  int year = 0;
  int cutting = 0;
  std::string entry;
  std::size_t plots = 0;
  ByPart<double> percent{};

  bool operator==(const EntryComposition&) const = default;
};

// Percent weeds by eye of a plot, for one cutting of it.
struct WeedsByEye {
  double percent = 0.0;
  CalendarDate day{};
  std::vector<RecordId> records;
};
// What was said at the cutting itself; else the newest of a rating after the cutting before (empty:
// there was none) and up to the day of this one. Nothing where that is no value, or still open.
[[nodiscard]] std::optional<WeedsByEye> weeds_by_eye(const TrialFacts& trial,
                                                     const SettledValues& settled,
                                                     const PlanPlot& plot, OccasionId cutting,
                                                     std::optional<CalendarDate> before,
                                                     CalendarDate day);

}  // namespace ligule::results
