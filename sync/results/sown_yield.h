// Yield of what was sown, from the total yield and what a separated sample of the plot holds; or,
// where the lead says so, from the percent of weeds that somebody saw.
//
//   sown-species yield = total yield x dry share of sown and other sown, bags that hold weeds only
//                        left out: the sample is of the others
//   by eye             = total yield x (100 - percent weeds) / 100
//
// A plot that nothing stood on, or nothing that was sown, gives zero. A plot without a composition
// of its own has no sown-species yield: neither the total nor another plot's share stands in its
// place.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"
#include "storage/trial/quantity.h"
#include "sync/results/footing.h"
#include "sync/results/plot_value.h"
#include "sync/results/yields.h"

namespace ligule::results {

enum class SownBasis {
  kSeparated,  // separated samples only
  kByEye,      // the weeds by eye where there is no composition that could come
};
enum class SownFrom { kNone, kSeparated, kNothingSown, kByEye };
// "separated sample", "nothing sown was cut", "weeds by eye"; empty: none.
[[nodiscard]] std::string_view name_of(SownFrom from);

struct SownYield {
  SownFrom from = SownFrom::kNone;
  std::optional<KilogramsPerHectare> yield;
  std::string why;  // there is none
};
[[nodiscard]] SownYield sown_yield(const PlotYield& plot, SownBasis basis);

// Whether any plot has one that is made of its composition, or of weeds by eye: without it there is
// nothing to make a table of.
[[nodiscard]] bool has_sown_yields(std::span<const PlotYield> plots, SownBasis basis);
// Every plot that takes part, at every cutting, a missing value where it has none, so that a season
// total stands only where every cutting has it. kInvalid for an unknown unit of yield.
[[nodiscard]] Result<std::vector<PlotValue>> sown_values(std::span<const PlotYield> plots,
                                                         std::string_view unit, SownBasis basis);
// What each value of a cutting is made of, and which plots have none.
[[nodiscard]] std::vector<Footing> sown_footings(std::span<const PlotYield> plots, SownBasis basis);

// Compositions that can't be had, and parts whose fresh weights are off the whole by more than the
// tolerance.
[[nodiscard]] std::vector<Error> composition_notices(std::span<const PlotYield> plots);

// By cutting as in `plots`, entries by label.
[[nodiscard]] std::vector<EntryComposition> entry_compositions(std::span<const PlotYield> plots);

// composition.csv: every plot of a cutting with a separated sample, begun ones too, or with weeds
// by eye. Empty where there is none.
[[nodiscard]] Result<std::string> composition_csv(std::span<const PlotYield> plots,
                                                  std::string_view unit, SownBasis basis);

}  // namespace ligule::results
