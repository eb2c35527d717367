// The part of the report that sums up all tests.
#pragma once

#include <span>
#include <string>

#include "sync/results/long_term.h"
#include "sync/results/report.h"

namespace ligule::results {

// Best average first. The percents of single tests stand in numbered columns, at most 25 of them
// beside each other, so that they fit on paper; the list under the table says which test each is.
// Tests that count in no average are listed with the reason. `summary` from long_term() of
// `analyses`. Of scores and stages it only says where their means over tests stand.
[[nodiscard]] std::string long_term_section(std::span<const Analysis> analyses,
                                            std::span<const LongTermRow> summary,
                                            const ReportText& text);

}  // namespace ligule::results
