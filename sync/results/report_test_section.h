// The part of the report that shows one test.
#pragma once

#include <span>
#include <string>

#include "sync/results/analysis.h"
#include "sync/results/footing.h"

namespace ligule::results {

// Stands behind a value that is not different from the highest in its column.
inline constexpr const char* kTopMark = "●";

struct SectionStyle {
  double alpha = 0.05;
  bool cuttings = true;  // columns are cuttings; false: passes of a rating, shown by their code
  std::span<const Footing> footings = {};
};

// Whether entries differ at all in this analysis: F is significant at alpha, or can't be had
// because the error is zero. Without an answer the column carries no mark.
[[nodiscard]] bool entries_differ(const Analysis& analysis, double alpha);

// Headings, tables ranked by the most total mean, and notes. `analyses` are all those of one test,
// in order; `anchor` is the id of the section.
[[nodiscard]] std::string test_section(std::span<const Analysis> analyses,
                                       const std::string& anchor, const SectionStyle& style);

}  // namespace ligule::results
