// Two neighbours whose bags were swapped: each weight fits the other plot and not its own.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "storage/checks/expected_weight.h"

namespace ligule::checks {

// What was weighed in a cutting, by place along the plot path; empty: nothing, or no weight.
using WeighedPath = std::vector<std::optional<WeighedPlot>>;

// A pair that nobody just weighed is one of many: chance has many tries, so it must lie further out
// than one that was.
inline constexpr double kFartherOut = 2;

// Neighbours, by the place of the first, who differ by a fifth of the heavier and more: plots of
// one test often differ by a tenth for no reason (common practice, no source).
[[nodiscard]] std::vector<std::size_t> neighbours_apart(const WeighedPath& weighed);

// Whether the weights at place `first` and the next lie outside what the other plots suggest for
// them, `times` as far as that reaches, and each well inside what they suggest for the other.
[[nodiscard]] bool fit_each_other(const WeighedPath& weighed, std::size_t first, double times);

// Where many plots are weighed one fit of all of them says which pairs (by their first place) are
// worth a fit of their own.
void drop_unlikely(const WeighedPath& weighed, std::vector<std::size_t>& pairs);

}  // namespace ligule::checks
