// Reads what assets/ defines: scales, measures, species, limits.
#pragma once

#include "storage/files/faults.h"
#include "storage/files/file_system.h"
#include "storage/trial/scale.h"

namespace ligule::files {

// Scales come from scales/*.json (one a file, named after its code), measures from measures.json,
// species from species.json, limits from limits.json below the assets folder, in the files' own
// order (scales by code).
// Lists every fault: a file missing or unreadable, a definition that does not stand on its own
// (scale_faults), a code used twice, a measure that names a scale or a species group that is not
// there, a limit of what is not there or is no number, on no scale or on several, in a unit that it
// is not given in, with a key that nothing reads, without a source or with its ends out of order
// (limit_faults). Ends of scores and stages are the numbers of their steps, without a unit.
[[nodiscard]] Checked<Definitions> load_definitions(FileSystem& files, const Path& assets);

// A program's own limits, in a file of the form of limits.json that lies beside its ledger
// (LEDGER.limits.json), put before those that everybody has: one of a species, of a group or of all
// holds for those it is about, whatever everybody's say of one of them, unless another of the
// program's own is nearer. Without such a file they stay; its faults are listed as those of
// limits.json. The ledger need not be there.
[[nodiscard]] Path own_limits_path(const Path& ledger);
[[nodiscard]] Checked<Definitions> with_own_limits(FileSystem& files, const Path& ledger,
                                                   Definitions definitions);

}  // namespace ligule::files
