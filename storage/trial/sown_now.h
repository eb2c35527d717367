// What holds about plots now, out of every statement about them.
#pragma once

#include <vector>

#include "storage/trial/as_sown.h"

namespace ligule {

// One statement of each plot that has any, in the order of plot ids: the one of the latest date; of
// several on a day the one recorded last. Where the same was stated again afterwards with an
// earlier date, and nothing else between, the date was put right: it holds since the earlier one.
// recorded: in the order they were recorded.
[[nodiscard]] std::vector<AsSown> sown_now(const std::vector<AsSown>& recorded);

}  // namespace ligule
