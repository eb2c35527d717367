// What is told once, when a rating is closed, of how it was made. Used by closing; not for other
// rooms.
#pragma once

#include <vector>

#include "app/flow/model.h"

namespace ligule::flow {

// A run of one value in a measure, and plots that were reached faster than anybody walks.
[[nodiscard]] std::vector<ClosingLook> closing_looks(const Model& model, const Book& book);

}  // namespace ligule::flow
