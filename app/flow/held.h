// What plots hold, and a run of them whose values move. Part of model.h.
#pragma once

#include <compare>
#include <map>
#include <string>

#include "app/flow/known.h"

namespace ligule::flow {

// What one plot holds in an occasion, its sample bag's values too, by measure and part.
struct HeldKey {
  std::string measure;
  int part = 1;
  int bag = 0;  // of a bag's values: of which part's bag; 0: the sample bag

  auto operator<=>(const HeldKey&) const = default;
};
using Holding = std::map<HeldKey, KnownClaim>;
struct PlotHolding {
  std::string plot;
  Holding held;

  bool operator==(const PlotHolding&) const = default;
};
// A run of plots whose values move along the path.
struct SlideRun {
  std::string from;  // first and last plot
  std::string to;
  int by = 0;  // places along the path; negative: back

  bool operator==(const SlideRun&) const = default;
};

}  // namespace ligule::flow
