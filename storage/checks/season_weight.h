// What a plot should weigh, from what it and its entry gave in the season's earlier cuttings and
// from how much the plots around it give today.
//
// Each weight is taken as a share of what earlier cuttings let one expect; the level of those
// shares in the block is today's growth there. So something is told from the fifth plot of a
// cutting on, where expected_weight() has to wait for a second block.
#pragma once

#include <cstddef>
#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "storage/checks/exchanged.h"
#include "storage/checks/expected_weight.h"

namespace ligule::checks {

// What a plot gives as a share of the mean of all, by earlier cuttings.
struct PastShares {
  std::vector<std::optional<double>> share;  // by place; empty where the plot was never weighed
  double spread = 0;  // of a plot today about what that foretells, a share of the mean
};
// From the season's earlier cuttings, each by place along the same path. A plot's own residuals
// count in part: 0.4 of one cutting's, 0.57 of the mean of two (half of the error variance lasts in
// one published table, see tests/bench/season.h). Where stands are known, weights are those of a
// full stand.
[[nodiscard]] PastShares past_shares(std::span<const WeighedPath> earlier);

inline constexpr std::size_t kLeastNear = 4;

// Of the plot at `place`, `next` (its weight is not looked at), from the weights of this cutting so
// far. The level is the median of its block, of the nine nearest weighed places where the block has
// fewer than kLeastNear, and the entry's own part in this cutting counts as far as other plots of
// it tell. The range reaches kSpreads standard deviations to either side, at least a tenth: of
// weights with nothing wrong 1 in 150 lies outside (tests/storage/checks/season_weight_test.cc
// measures it), 1 in 40 of a published table of 18 plots (tests/bench/slips_bench.cc). Empty where
// the plot was not weighed earlier, and with fewer than kLeastNear plots weighed today.
[[nodiscard]] std::optional<ExpectedWeight> season_weight(const PastShares& past,
                                                          const WeighedPath& so_far,
                                                          std::size_t place,
                                                          const WeighedPlot& next);
// Of the plot at `place`: by the season's earlier cuttings where they tell anything of it, else by
// the other plots of this one (expected_weight.h). A thin stand gave less in earlier cuttings too
// and is not counted twice. The weight at `place` is not looked at.
[[nodiscard]] std::optional<ExpectedWeight> expected_in_season(std::span<const WeighedPath> earlier,
                                                               const WeighedPath& so_far,
                                                               std::size_t place,
                                                               const WeighedPlot& next);

// The same for every plot of a cutting in turn, since a fit for each would take a file of a
// thousand plots a minute. What is told by earlier cuttings is fitted once, with the plot's own
// weight among the others of its block: medians hardly notice one of many.
class ExpectedInSeason {
 public:
  ExpectedInSeason(std::span<const WeighedPath> earlier, WeighedPath so_far);
  [[nodiscard]] std::optional<ExpectedWeight> at(std::size_t place, const WeighedPlot& next) const {
    return at_(place, next);
  }

 private:
  std::function<std::optional<ExpectedWeight>(std::size_t, const WeighedPlot&)> at_;
};

}  // namespace ligule::checks
