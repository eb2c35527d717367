// One value of one plot at one cutting: what every analysis starts from, wherever it came from.
#pragma once

#include <compare>
#include <optional>

#include "sync/results/label.h"

namespace ligule::results {

// Where a plot lies in the field, counted from 1 as the plan does.
struct PlotPlace {
  int row = 0;
  int column = 0;

  auto operator<=>(const PlotPlace&) const = default;
};

struct PlotValue {
  Label test;               // one sowing at one site
  Label site;               // a label for people; takes no part in the analysis
  std::optional<int> year;  // of the harvest; may be unknown
  Label cutting;            // may be empty; never "total" or "all"
  Label rep;                // the block; empty in every row of an analysis = a published mean
  Label entry;
  Label plot;                   // tells repeated plots of one entry in a rep apart; may be empty
  std::optional<double> value;  // empty = a missing plot; finite otherwise
  std::optional<PlotPlace> place = {};  // the same in every row of a plot; may be unknown
  int incomplete_block = 0;  // which part of its rep, from 1, likewise; 0: there are none
};

}  // namespace ligule::results
