// Reads assets/soil.json: what a soil test may state, what is asked about it, and the published
// tables that judge it.
#pragma once

#include "storage/files/faults.h"
#include "storage/files/file_system.h"
#include "storage/trial/soil_tables.h"

namespace ligule::files {

// Lists every fault: a file missing or unreadable, a key that nothing reads, a text or number that
// is none, a code used twice, numbers out of order, a table of a property, unit or extractant that
// the file does not list, anything without a source. That species and groups are those of
// species.json is not looked at here.
[[nodiscard]] Checked<SoilTables> load_soil_tables(FileSystem& files, const Path& assets);

}  // namespace ligule::files
