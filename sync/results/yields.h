// Dry-matter yield of every plot at every cutting, from the weights that were recorded.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"
#include "storage/trial/quantity.h"
#include "storage/trial/yield.h"
#include "sync/results/composition.h"
#include "sync/results/footing.h"
#include "sync/results/plot_value.h"
#include "sync/results/samples.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

// Why nothing that was sown was weighed on a plot, and what that counts as.
struct NoWeight {
  bool zero = false;       // nothing grew there: the yield is zero; false: missing
  std::string reason;      // "washed_out", or somebody's words; may be empty
  bool confirmed = false;  // of a zero: somebody looked again, and nothing that was sown grew there

  bool operator==(const NoWeight&) const = default;
};

// One plot at one cutting, with everything its yield was made of, so that it can be made again by
// hand.
struct PlotYield {
  std::string test, site;
  int year = 0;
  int cutting = 0;
  int block = 0;
  std::string plot;   // its number
  std::string entry;  // label it is published under; empty: the plot is out of results
  std::optional<Kilograms> gross, tare;      // sums over the parts of the act
  std::optional<SquareMetres> area;          // harvested
  FractionUsed dry_matter;                   // the fraction, and where it is from
  std::optional<KilogramsPerHectare> yield;  // of what was sown
  std::optional<KilogramsPerHectare> total;  // of all that was cut, weeds too
  std::string why;                           // no yield, or out of results
  std::optional<NoWeight> no_weight;
  bool tare_taken_as_zero = false;  // the plan asks for one, and nobody gave it or said it is 0
  std::vector<RecordId> records;    // every record it rests on, in that order
  // Beside the yield, which never uses them (sown_yield.h).
  std::optional<Composition> composition = {};  // empty: no sample was separated
  std::optional<WeedsByEye> weeds = {};
  CalendarDate cut_on{};  // the cutting's last day where the plot was not weighed
  std::optional<PlotPlace> place = {};
  int incomplete_block = 0;  // as of PlotValue
};

struct TrialYields {
  std::vector<PlotYield> plots;  // by year, cutting, then along the plot path
  std::vector<Error> left_out;   // values that nobody has decided on, and weights that can't be
  std::vector<Error> notices;    // odd, but it may be meant, zeros among them: the yields stand
};

// Every plot at every cutting that is for its entry and has a weight somewhere, and what else was
// weighed. A plot without a yield stands there too
// and counts as missing, unless it is out of results.
[[nodiscard]] TrialYields yields_of(const TrialFacts& trial, const std::string& test);

// A yield of each plot, by `of`, as plot values in a unit of yield; plots out of results left away,
// an empty yield is a missing plot. kInvalid for another unit.
[[nodiscard]] Result<std::vector<PlotValue>> values_by(
    std::span<const PlotYield> plots, std::string_view unit,
    const std::function<std::optional<KilogramsPerHectare>(const PlotYield&)>& of);
// As plot values in a unit of yield ("ton/acre", "lb/acre", "kg/ha", "Mg/ha"); those out of results
// left away. kInvalid for another unit.
[[nodiscard]] Result<std::vector<PlotValue>> plot_values(const std::vector<PlotYield>& plots,
                                                         std::string_view unit);

// plots.csv: how each yield came about.
[[nodiscard]] Result<std::string> plots_csv(const std::vector<PlotYield>& plots,
                                            std::string_view unit);

}  // namespace ligule::results
