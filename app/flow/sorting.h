// Which samples can be sorted, and finding one. Shared by update and views; not for other rooms.
#pragma once

#include <string>
#include <vector>

#include "app/flow/book.h"
#include "app/flow/views_dry.h"

namespace ligule::flow {

// Cuttings of this year that were begun, those whose plan asks for it first: samples are sorted of
// them.
[[nodiscard]] std::vector<SortRow> cuttings_to_sort(const Model& model);
// The plot of a stake, or of the bag its sample or a part of it is in; null: none.
[[nodiscard]] const PlanPlot* plot_with(const Model& model, const Book& book,
                                        const std::string& number);

}  // namespace ligule::flow
