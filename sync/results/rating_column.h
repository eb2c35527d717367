// A rating that stands beside the yields of its test: one pass of one measure.
#pragma once

#include <string>

#include "sync/results/analysis.h"

namespace ligule::results {

struct RatingColumn {
  std::string measure;   // code, "percent_stand"
  std::string heading;   // "Percent stand"
  std::string day;       // "2 Apr", "2–3 Apr"; may be empty
  std::string below;     // under the heading: the day and the unit
  std::string order;     // columns of a year stand in its order, which is that of the days
  bool is_date = false;  // values are days of the year
  Analysis analysis;     // of that pass
  bool is_ratio = true;  // of shares, lengths, weights; not of scores, stages and dates
};

}  // namespace ligule::results
