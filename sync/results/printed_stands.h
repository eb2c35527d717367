// Stands and grazing by the names that entries are printed under.
#pragma once

#include "sync/results/entry_standing.h"
#include "sync/results/grazing.h"
#include "sync/results/stand_persistence.h"

namespace ligule::results {

// Every entry under its name in print, withheld ones left out; figures, ranks and marks stay.
void print_names(StandPersistence& stands, const PrintedName& printed);
void print_names(GrazingTest& grazing, const PrintedName& printed);

}  // namespace ligule::results
