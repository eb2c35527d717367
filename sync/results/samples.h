// Sample bags of a cutting, and the dry-matter fraction that a plot's yield is made with.
//
// A plot uses, in this order: its own sample; the mean of the samples of the same entry, cutting,
// day and crop surface; the mean of all samples of the trial at that cutting on that day; nothing.
// Which of them it was goes with the yield.
#pragma once

#include <map>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/yield.h"
#include "sync/results/bag_weights.h"
#include "sync/results/settled.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

// What stands in one or several bags of the same plots, their weights added before dividing.
struct Sample {
  std::vector<std::string> plots;  // it was taken from, along the path; several: a composite
  std::vector<std::string> bags;   // numbers on the bags that count, as written
  std::string entry;               // label of what those plots held; empty: not one entry
  CalendarDate day{};              // it was cut
  std::string surface;             // of the crop then: "dry", "dew", "rain"; empty: not stated
  bool weeds_only = false;         // nothing that was sown is in it: no sample of an entry
  SampleState state = SampleState::kWaiting;
  std::optional<DryMatterFraction> fraction;  // kGood only
  std::string why;                            // not kGood
  std::string mend;                           // kUndecided: what a person can do about it
  std::vector<RecordId> records;              // it rests on
};

// Where a plot's fraction is from.
enum class FractionFrom { kNone, kOwnSample, kComposite, kEntryMean, kTrialMean };
// "own sample", "composite sample", "entry mean of the day", "trial mean of the day"; empty: none.
[[nodiscard]] std::string_view name_of(FractionFrom from);

struct FractionUsed {
  FractionFrom from = FractionFrom::kNone;
  std::optional<DryMatterFraction> fraction;
  std::vector<std::string> bags;  // numbers, of every sample that went into it
  std::vector<RecordId> records;
  std::string why;   // there is no sample of its own that could be used
  std::string mend;  // a person has to do something first: what
};

// A plot as it was cut.
struct CutPlot {
  std::string plot;   // its number
  std::string entry;  // label; never empty
  CalendarDate day{};
  std::string surface;
};

// `samples` are those of the plot's trial and cutting, each once. A plot with a sample of its own
// that is waiting or undecided gets none: another figure in its place would change again. A plot's
// means are plain averages of the samples' fractions.
[[nodiscard]] FractionUsed choose_fraction(const CutPlot& plot, std::span<const Sample> samples);

// Day and crop surface at which a plot was cut: of the harvest run that its weight, or else its
// bag, belongs to; without one, of the record.
[[nodiscard]] CutPlot cut_plot(const TrialFacts& trial, const SettledValues& settled,
                               const PlanPlot& plot, OccasionId cutting, CalendarDate last_day);

// Every sample of a cutting, in the order of the plot path. Plots that hold no known entry have
// none: nobody can say what was in the bag.
[[nodiscard]] std::vector<Sample> samples_of(const TrialFacts& trial, const SettledValues& settled,
                                             OccasionId cutting, CalendarDate last_day);

}  // namespace ligule::results
