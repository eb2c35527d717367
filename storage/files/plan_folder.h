// A plan as a folder of tables that a trial lead keeps in a spreadsheet: trial.csv (one row),
// entries.csv, plots.csv, occasions.csv, scores.csv where the program defines scores of its own,
// and soil.csv where the soil was tested. The Table Schemas in assets/plan/ say what each column
// means; copies lie beside the tables (trial.schema.json ...).
#pragma once

#include "storage/files/faults.h"
#include "storage/files/file_system.h"
#include "storage/files/table_schema.h"
#include "storage/trial/plan.h"
#include "storage/trial/scale.h"
#include "storage/trial/soil_tables.h"

namespace ligule::files {

struct PlanSchemas {
  TableSchema trial, entries, plots, occasions, scores, soil;
  SoilTables soil_tables;  // what may stand in the rows of soil.csv, and what judges it
};

// Reads plan/trial.schema.json ... and soil.json below the assets folder. Faults: a file missing or
// not sound, a column the program fills or reads that no schema describes.
[[nodiscard]] Checked<PlanSchemas> load_plan_schemas(FileSystem& files, const Path& assets);

struct PlanRead {
  Plan plan;
  Faults notices;  // odd, but it may be meant: see check_plan() and check_soil()
};

// Reads and checks a whole plan and changes nothing. Every fault of every table is listed at once,
// with file, line and column. kNotFound and kIo faults mean that a file could not be read at all.
[[nodiscard]] Checked<PlanRead> read_plan_folder(FileSystem& files, const Path& folder,
                                                 const PlanSchemas& schemas,
                                                 const Definitions& definitions);

// Writes the tables and their schemas (scores and soil only where there are some) into a folder
// (made when missing). Tables of the same names are replaced. Reading them back gives the same
// plan, sizes in their shortest spelling. kInvalid when a text of the plan cannot stand in a table
// (control characters).
[[nodiscard]] Result<void> write_plan_folder(FileSystem& files, const Path& folder,
                                             const Plan& plan, const PlanSchemas& schemas);

}  // namespace ligule::files
