// Where it was before the desk needed it too.
#pragma once

#include "storage/ledger/earlier_cuttings.h"

namespace ligule::work {

using ledger::earlier_cuttings;

}  // namespace ligule::work
