// The plots of one analysis as data of a crossed fit, by design.
#pragma once

#include "sync/results/test_table.h"
#include "sync/statistics/crossed_fit.h"

namespace ligule::results {

// Entries as treatments, in the order of Selected::plots, and the terms of the design: the blocks;
// rows and columns (a Latin square, selected.all_placed); the incomplete blocks (where they are
// known of all); none (completely randomised).
[[nodiscard]] statistics::CrossedData crossed_data(const TestTable& table, const Selected& selected,
                                                   Design design);

// Entries in blocks, and in none.
[[nodiscard]] statistics::Fit fit_in_blocks(const TestTable& table, const Selected& selected,
                                            const Blocks& blocks);
[[nodiscard]] statistics::Fit fit_without_blocks(const TestTable& table, const Selected& selected);

// Rows and columns of plots that all have a place.
[[nodiscard]] statistics::Term rows_term(const TestTable& table, const Selected& selected);
[[nodiscard]] statistics::Term columns_term(const TestTable& table, const Selected& selected);

}  // namespace ligule::results
