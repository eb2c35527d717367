// What a plot sheet says of its measures: how each box is filled in, and what is judged.
#pragma once

#include <string>

#include "storage/trial/sheet_columns.h"

namespace ligule::print {

struct SheetHeading {
  std::string name;    // "Percent stand"
  std::string how;     // "0 to 100 %", "1 erect to 9 flat", "3 readings, in"
  std::string better;  // "high is best"; empty: neither end is
  int boxes = 1;       // side by side for one plot: readings, parts of a whole
  double width = 0;    // millimetres that all of them want
};
// unit: of lengths and weights, where a scale of the column takes it; else its first.
[[nodiscard]] SheetHeading sheet_heading(const SheetColumn& column, const std::string& unit);
// The unit that is written in its boxes; empty: none.
[[nodiscard]] std::string sheet_unit(const Scale& scale, const std::string& unit);

// "V vegetative, E-early early elongation, ..."; empty where the heading says it all.
[[nodiscard]] std::string steps_in_words(const Scale& scale);

}  // namespace ligule::print
