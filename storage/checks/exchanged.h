// Two neighbours whose bags were swapped: each weight fits the other plot and not its own.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>
#include <vector>

#include "storage/checks/expected_weight.h"

namespace ligule::checks {

// What was weighed in a cutting, by place along the plot path; empty: nothing, or no weight.
using WeighedPath = std::vector<std::optional<WeighedPlot>>;

// Asked once a pair; its answer stands with the weight of one of the two, and the details of both
// name the other's plot.
inline constexpr std::string_view kExchanged = "neighbours_exchanged";
inline constexpr std::string_view kWeightsRight = "weights_right";
inline constexpr std::string_view kApartFrom = "apart_from";
inline constexpr std::string_view kApartWeight = "apart_weight";  // the neighbour's, with its unit

// Whether that two weights are right still holds when one of them is `now` and was `then` (kg): a
// tare or a last digit put right changes nothing, a plot weighed anew to another weight does.
[[nodiscard]] bool is_still_apart(double then, double now);

// Neighbours, by the place of the first, who differ by a fifth of the heavier and more: plots of
// one test often differ by a tenth for no reason (common practice, no source).
[[nodiscard]] std::vector<std::size_t> neighbours_apart(const WeighedPath& weighed);

// Whether the weights at place `first` and the next were probably exchanged: each lies within what
// the other plots suggest for the other plot, and were they normal the two would be e^5 (148) times
// as likely exchanged as they stand. Of whole cuttings with nothing wrong, 24 entries in 4 blocks,
// 0, 0 and 5 in 100 have a pair named at a coefficient of variation of 6, 10 and 15 percent; of
// exchanged pairs a third and more apart 98, 72 and 27 in 100 are (tests/storage/checks/
// exchanged_test.cc measures it).
[[nodiscard]] bool probably_exchanged(const WeighedPath& weighed, std::size_t first);

// Where many plots are weighed one fit of all of them says which pairs (by their first place) are
// worth a fit of their own.
void drop_unlikely(const WeighedPath& weighed, std::vector<std::size_t>& pairs);

}  // namespace ligule::checks
