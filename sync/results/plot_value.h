// One value of one plot at one cutting: what every analysis starts from, wherever it came from.
#pragma once

#include <optional>
#include <string>

namespace ligule::results {

struct PlotValue {
  std::string test;         // one sowing at one site
  std::string site;         // a label for people; takes no part in the analysis
  std::optional<int> year;  // of the harvest; may be unknown
  std::string cutting;      // may be empty; never "total" or "all"
  std::string rep;          // the block; empty in every row of an analysis = a published mean
  std::string entry;
  std::string plot;             // tells repeated plots of one entry in a rep apart; may be empty
  std::optional<double> value;  // empty = a missing plot; finite otherwise
};

}  // namespace ligule::results
