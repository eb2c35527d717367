// Ways to say what the next plot should weigh, compared by slips_bench.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "tests/bench/season.h"

namespace ligule::bench {

struct Told {
  double middle = 0;
  double deviation = 0;  // one standard deviation of what is foretold
};

struct Knows {
  bool stand = false;    // the last rating of percent stand
  bool trend = false;    // the plots weighed just before, more than their block
  bool earlier = false;  // the season's earlier cuttings
};

// What the rule tells before each plot of the last cutting is weighed, from those before it only;
// empty where it tells nothing.
using Tells = std::vector<std::optional<Told>>;

// storage/checks/expected_weight.h, with or without stands.
[[nodiscard]] Tells as_now(const Season& season, bool stand);

// storage/checks/season_weight.h, with or without stands; nothing in the first cutting.
[[nodiscard]] Tells by_season(const Season& season, bool stand);

// What the tablet foretells: by_season without stands, since a thin stand gave less in earlier
// cuttings too, and where that tells nothing as_now with them (app/flow/gauge.cc). In a first
// cutting it is as_now.
[[nodiscard]] Tells as_tablet(const Season& season);

// What nobody can know: all but the error that this cutting alone adds. No rule does better.
[[nodiscard]] Tells by_truth(const Season& season);

// Weights as shares of what plot and entry gave before, against the level of the plots just
// weighed.
[[nodiscard]] Tells by_level(const Season& season, const Knows& knows);

}  // namespace ligule::bench
