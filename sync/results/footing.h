// A line that stands under the table of one cutting: what a reader must know of its plots.
#pragma once

#include <string>

namespace ligule::results {

struct Footing {
  std::string test;
  int year = 0;
  int cutting = 0;
  std::string text;  // a sentence

  bool operator==(const Footing&) const = default;
};

}  // namespace ligule::results
