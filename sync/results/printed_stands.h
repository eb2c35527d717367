// Stands, grazing and the field by the names that entries are printed under.
#pragma once

#include "sync/results/field_trend.h"
#include "sync/results/grazing.h"
#include "sync/results/printed_name.h"
#include "sync/results/stand_persistence.h"

namespace ligule::results {

// Every entry under its name in print, withheld ones left out; figures, ranks and marks stay.
void print_names(StandPersistence& stands, const PrintedName& printed);
void print_names(GrazingTest& grazing, const PrintedName& printed);
void print_names(FieldTrend& trend, const PrintedName& printed);

}  // namespace ligule::results
