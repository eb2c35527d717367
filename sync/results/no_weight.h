// Plots without a weight, and those whose weight lacks its tare: counted under a cutting, and named
// for whoever answers for the trial.
#pragma once

#include <string>
#include <vector>

#include "storage/trial/error.h"
#include "sync/results/footing.h"
#include "sync/results/yields.h"

namespace ligule::results {

// How many plots of a cutting have no weight, and why.
struct NoWeightCount {
  std::string test;
  int year = 0;
  int cutting = 0;
  NoWeight why;  // not whether it was confirmed
  std::vector<std::string> plots;
  std::vector<std::string> unconfirmed = {};  // of zeros: those nobody looked at again

  bool operator==(const NoWeightCount&) const = default;
};
// By test, year and cutting as in `plots`, zeros first, then by reason. Plots out of results are
// not counted.
[[nodiscard]] std::vector<NoWeightCount> no_weights(const std::vector<PlotYield>& plots);
// The same as lines under the cuttings: "3 plots count as zero: winterkill 3; 2 confirmed, 1 not
// yet.".
[[nodiscard]] std::vector<Footing> no_weight_footings(const std::vector<PlotYield>& plots);
// A reason as people read it: "washed out".
[[nodiscard]] std::string reason_text(const std::string& reason);

// A line for each cutting and reason with zeros that nobody has confirmed.
[[nodiscard]] std::vector<Error> zero_notices(const std::vector<PlotYield>& plots);
// A line for each cutting with plots whose tare was taken as 0.
[[nodiscard]] std::vector<Error> missing_tare_notices(const std::vector<PlotYield>& plots);

}  // namespace ligule::results
