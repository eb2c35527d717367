// Ratings and cuttings of a trial that is being laid out, from a file that may serve every year.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "storage/files/faults.h"
#include "storage/files/table_schema.h"
#include "storage/trial/plan.h"

namespace ligule::files {

struct OccasionList {
  std::vector<PlanOccasion> occasions;
  std::vector<std::string> places;  // "occasions.csv line 3"
};

// As occasions.csv of a plan, whose schema is `schema`; besides, `due` may say how many days after
// sowing ("+21"), and an empty year is that of the due date.
[[nodiscard]] Checked<OccasionList> read_occasion_list(std::string_view text,
                                                       const std::string& file,
                                                       const TableSchema& schema,
                                                       CalendarDate sown);

}  // namespace ligule::files
