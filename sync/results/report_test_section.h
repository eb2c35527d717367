// The part of the report that shows one test.
#pragma once

#include <span>
#include <string>

#include "sync/results/analysis.h"
#include "sync/results/composition.h"
#include "sync/results/entry_lines.h"
#include "sync/results/event_lines.h"
#include "sync/results/footing.h"

namespace ligule::results {

// Stands behind a value that is not different from the highest in its column.
inline constexpr const char* kTopMark = "●";

struct SectionStyle {
  double alpha = 0.05;
  bool cuttings = true;  // columns are cuttings; false: passes of a rating, shown by their code
  std::span<const Footing> footings = {};
  std::span<const EventLine> events = {};
  std::span<const EntryComposition> compositions = {};
  std::span<const EntryLine> entries = {};
};

// Whether entries differ at all in this analysis: F is significant at alpha, or can't be had
// because the error is zero. Without an answer the column carries no mark.
[[nodiscard]] bool entries_differ(const Analysis& analysis, double alpha);

// The events of one test as lists, a year each; empty where there are none.
[[nodiscard]] std::string event_lists(std::span<const EventLine> events, const std::string& test);

// What the entries of one test were made of, a table each cutting; empty where nothing was
// separated.
[[nodiscard]] std::string composition_tables(std::span<const EntryComposition> compositions,
                                             const std::string& test);

// Headings, tables ranked by the most total mean, notes, how entries are known, and events.
// `analyses` are all those of one test, in order; `anchor` is the id of the section.
[[nodiscard]] std::string test_section(std::span<const Analysis> analyses,
                                       const std::string& anchor, const SectionStyle& style);

}  // namespace ligule::results
