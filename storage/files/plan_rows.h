// The rows of a plan's tables: what stands in each column, and a value of the plan from a row and
// back. Used by plan_folder.cc; not for other rooms.
#pragma once

#include <string>
#include <vector>

#include "storage/files/table_row.h"
#include "storage/trial/plan.h"
#include "storage/trial/scale.h"

namespace ligule::files {

// The columns this program fills and reads, in the order they are written. A schema may describe
// them in another order but must describe exactly these.
using Columns = std::vector<std::string>;
[[nodiscard]] const Columns& trial_columns();
[[nodiscard]] const Columns& entry_columns();
[[nodiscard]] const Columns& plot_columns();
[[nodiscard]] const Columns& occasion_columns();
[[nodiscard]] const Columns& score_columns();
[[nodiscard]] const Columns& soil_columns();

// From a row whose cells were held against the schema: a cell that is not what its column declares
// gives an empty value, and has been told of.
void read_trial(const TableRow& row, Plan& plan);
[[nodiscard]] PlanEntry read_entry(const TableRow& row);
[[nodiscard]] PlanPlot read_plot(const TableRow& row);
[[nodiscard]] PlanOccasion read_occasion(const TableRow& row);
[[nodiscard]] Scale read_score(const TableRow& row);
[[nodiscard]] SoilTest read_soil(const TableRow& row);

// The cells of a row, in the order of the columns.
using Cells = std::vector<std::string>;
[[nodiscard]] Cells trial_cells(const Plan& plan);
[[nodiscard]] Cells entry_cells(const PlanEntry& entry);
[[nodiscard]] Cells plot_cells(const PlanPlot& plot);
[[nodiscard]] Cells occasion_cells(const PlanOccasion& occasion);
[[nodiscard]] Cells score_cells(const Scale& score);
[[nodiscard]] Cells soil_cells(const SoilTest& test);

}  // namespace ligule::files
