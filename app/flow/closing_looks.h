// What is told once, when a rating or cutting is closed, of how it was made. Used by closing; not
// for other rooms.
#pragma once

#include <vector>

#include "app/flow/model.h"

namespace ligule::flow {

// Of a rating: a run of one value in a measure, a run that fits better one plot on or back, and
// plots that were reached faster than anybody walks.
[[nodiscard]] std::vector<ClosingLook> closing_looks(const Model& model, const Book& book);
// Of a cutting: a run of weights that fits better one plot on or back.
[[nodiscard]] std::vector<ClosingLook> closing_looks(const Model& model, const Harvest& harvest);

}  // namespace ligule::flow
