// What a command says of the soil of a trial that is to be sown.
#pragma once

#include "storage/trial/plan.h"
#include "storage/trial/scale.h"
#include "storage/trial/soil_tables.h"
#include "sync/desk/command.h"

namespace ligule::desk {

// One line a verdict, and one that no amounts are prescribed; nothing without a soil test.
void tell_soil(const Plan& plan, const SoilTables& tables, const Definitions& definitions,
               Console& console);

}  // namespace ligule::desk
