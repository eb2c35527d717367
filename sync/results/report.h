// report.html: one page that holds everything it needs, reads on a phone and prints on paper.
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <vector>

#include "sync/results/aliases.h"
#include "sync/results/alike_entries.h"
#include "sync/results/analysis.h"
#include "sync/results/composition.h"
#include "sync/results/entry_lines.h"
#include "sync/results/event_lines.h"
#include "sync/results/footing.h"
#include "sync/results/long_term.h"
#include "sync/results/raters.h"
#include "sync/results/tests_behind.h"
#include "sync/results/varieties.h"

namespace ligule::results {

struct ReportText {
  std::string measure;  // what the values are, "Dry-matter yield"; empty: not known
  std::string unit;     // "ton/acre"; empty: not known
  std::string source;   // where the values came from, as a person would say it
  Best best = Best::kHighest;
  bool cuttings = true;        // false: the values are ratings, a pass each
  bool demonstration = false;  // made up, to show how it works
  double alpha = 0.05;
  std::size_t min_tests = 2;            // below which no long-term average is printed
  std::vector<Footing> footings = {};   // each under its cutting
  std::vector<EventLine> events = {};   // each in the section of its test
  std::vector<EntryLine> entries = {};  // as events
  std::vector<EntryComposition> compositions = {};
  RaterFigures raters = {};         // a section of its own
  std::vector<SownYear> sown = {};  // of the tests of which it is known
  // Names, none of them of a withheld entry (EntryNames::tell).
  std::vector<AliasApplied> aliases = {};
  std::vector<AlikeNames> alike = {};  // never merged
  // table_files() takes them by label, and hands the report those that are printed, by the name
  // they are printed under.
  Varieties known = {};
  std::vector<WithheldCount> withheld = {};  // set by table_files(): of this measure's tests
};

// `analyses` in the order of analyse(), `summary` from long_term() of the same.
[[nodiscard]] std::string report_html(std::span<const Analysis> analyses,
                                      std::span<const LongTermRow> summary, const ReportText& text);

}  // namespace ligule::results
