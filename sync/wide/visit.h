// A plot at a rating or cutting: how the rows of ratings and cuttings begin.
#pragma once

#include <string>
#include <vector>

#include "storage/files/columns.h"
#include "storage/trial/identity.h"
#include "sync/wide/wide_tables.h"

namespace ligule::wide {

struct Visit {
  Uuid plot;
  OccasionId occasion;
  std::string test;  // what results call the trial
  std::string site;
  int year = 0;
  std::string rating_or_cutting;  // its code or its number
  std::string number;             // of the plot
  int block = 0;
  std::string entry;  // label of what the plot held; empty: it is out of results
};

// `told` is the column of rating_or_cutting.
[[nodiscard]] std::vector<files::Column> visit_columns(files::Column told);
[[nodiscard]] std::vector<std::string> visit_cells(const Visit& visit);
// Plot and occasion, which tell visits apart, and the tables they stand in.
[[nodiscard]] std::vector<std::string> visit_key();
[[nodiscard]] std::vector<Reference> visit_references();

}  // namespace ligule::wide
