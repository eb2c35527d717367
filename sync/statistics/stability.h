// How evenly an entry did over the tests it stood in, beside what entries and tests add up to.
//
// As in fit.h: treatment = entry, block = test, one value of an entry in a test; what can't be had
// is empty and nothing is ever NaN.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

#include "sync/statistics/fit.h"

namespace ligule::statistics {

struct Stability {
  // Yield gained for each unit that a test's mean is higher: 1 goes with the tests, below 1 does
  // comparatively well where yields are poor, above 1 where they are good. Regression on the mean
  // of each test (Finlay & Wilkinson 1963, Aust. J. Agric. Res. 14:742-754), which is the
  // least-squares one where entries are missing. Empty below three tests, or where their means are
  // alike.
  std::optional<double> slope;
  std::optional<double> slope_error;  // standard error of it
  // Shukla's stability variance (1972, Heredity 29:237-245): that of an entry's own departures from
  // entry + test, plot error in it. An estimate without bias, so chance may take it below 0. Where
  // entries are missing the same expectations of the residuals' squares are solved for the table as
  // it is; his formula is their solution in a complete one. Empty below three entries, and for an
  // entry that no departure can be seen of.
  std::optional<double> variance;
};

// One per entry, in index order; all empty where sets of entries share no test.
[[nodiscard]] std::vector<Stability> stability(std::span<const Observation> observations,
                                               std::size_t entries, std::size_t tests);

}  // namespace ligule::statistics
