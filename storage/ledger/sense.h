// Whether a record can be concluded from.
#pragma once

#include "storage/trial/record.h"

namespace ligule::ledger {

// Whether a record of a known kind says all that its kind must say; kInvalid names what is missing.
// append() refuses such a record. One that arrives from elsewhere is kept, chained and handed on,
// but nothing is concluded from it.
[[nodiscard]] Result<void> check_sense(const Record& record);

}  // namespace ligule::ledger
