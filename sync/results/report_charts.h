// Charts of the report: they say nothing that a table does not say, for those who read pictures.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "sync/results/analysis.h"
#include "sync/results/long_term.h"
#include "sync/results/rating_column.h"
#include "sync/results/report_table.h"

namespace ligule::results {

// Entry means of one analysis as dots, in the order of the table, with the LSD as a bar; filled
// where not different from the best. Empty below two means. `unit` may be empty.
[[nodiscard]] std::string means_chart(const Analysis& analysis, const std::string& unit, Best best,
                                      const TableStyle& style);

// Percent stand of each entry at every pass, first to last; `stands` are those of one test, in
// order of time. Empty below two passes.
[[nodiscard]] std::string stand_chart(std::span<const RatingColumn* const> stands,
                                      const TableStyle& style);

// Each entry's average drawn towards its company's mean, with its interval, in percent of that
// mean; `rows` in the order to be shown. Empty without an interval.
[[nodiscard]] std::string long_term_chart(std::span<const LongTermRow* const> rows);

}  // namespace ligule::results
