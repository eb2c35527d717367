// What was rated or measured on plots besides weights, as plot values of each measure.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/error.h"
#include "storage/trial/scale.h"
#include "sync/results/plot_value.h"
#include "sync/results/trial_facts.h"

namespace ligule::results {

struct MeasureValues {
  std::string measure;  // code
  Direction direction = Direction::kNone;
  std::string unit;   // values are in it; empty: the scale has none
  bool days = false;  // values are days of the year on which something was reached
  // Twice the number is twice as much, so that a percent of a mean tells something: of shares,
  // lengths and weights. Scores and stages begin where whoever made the scale says.
  bool ratio = true;
  std::vector<PlotValue> values;  // year of the pass; `cutting` is the pass's code
};

struct TrialRatings {
  std::vector<MeasureValues> measures;  // by code
  std::vector<Error> left_out;
};

// Every measure with numbers about plots, at every pass where it has a value; several readings of
// one plot (heights) are averaged; shares of a whole are a measure each ("ground_cover" the first
// part, "ground_cover_weed" another); dates reached are the day of the year of the first visit that
// found it reached, left out and named where no visit before found it not yet. Weights, swath sizes
// and words are no ratings. A measure that two scales were used for in one pass is left out: their
// numbers mean different things.
[[nodiscard]] TrialRatings ratings_of(const TrialFacts& trial, const std::string& test);

// Whether a measure is one that yields are made of (weights, bags, swaths), and so no rating.
[[nodiscard]] bool is_of_yields(std::string_view measure);

}  // namespace ligule::results
