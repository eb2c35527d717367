// Sets of practice stands that people began on a day, read from the ledger: the next one shows
// others, whether the program was closed in between or not.
#pragma once

#include <utility>
#include <vector>

#include "storage/ledger/ledger.h"

namespace ligule::work {

// One for each set. Looks at ratings of percent stand of that day's year.
[[nodiscard]] Result<std::vector<std::pair<PersonId, CalendarDate>>> load_practised(
    const ledger::Ledger& ledger, CalendarDate today);

}  // namespace ligule::work
