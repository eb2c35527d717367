// What is worked out of the table of one test. For this room only.
#pragma once

#include <optional>
#include <vector>

#include "sync/results/analysis.h"
#include "sync/results/design_gain.h"
#include "sync/results/over_cuttings.h"
#include "sync/results/test_table.h"
#include "sync/statistics/fit.h"

namespace ligule::results {

// One analysis as numbers: several parts of the results rest on the same fit.
struct FittedRange {
  Range range;
  Selected selected;
  statistics::Fit fit;
};
[[nodiscard]] FittedRange fitted_range(const TestTable& table, Range range, Design design);

[[nodiscard]] Analysis analysis_of(const TestTable& table, const FittedRange& fitted,
                                   const AnalysisOptions& options);

// Empty without any plot that has a value.
[[nodiscard]] std::optional<DesignGain> gain_of(const TestTable& table, const FittedRange& fitted,
                                                Design design);

[[nodiscard]] std::vector<OverCuttings> over_cuttings_of(const TestTable& table,
                                                         const AnalysisOptions& options);

}  // namespace ligule::results
