#include "sync/results/table_files.h"

#include <utility>

#include "sync/results/long_term.h"
#include "sync/results/tables.h"

namespace ligule::results {

std::vector<OutputFile> table_files(std::span<const Analysis> analyses, const ReportText& text) {
  // Of all entries, so that what is withheld changes no figure of another.
  const std::vector<LongTermRow> summary = printed(long_term(analyses, text.min_tests), text.known);
  PrintedAnalyses shown = printed(analyses, text.known);
  ReportText of_shown = text;
  of_shown.withheld = std::move(shown.withheld);
  of_shown.known = text.known.printed();
  return {{"tests.csv", tests_csv(analyses)},
          {"means.csv", means_csv(shown.analyses)},
          {"long_term.csv", long_term_csv(summary)},
          {"long_term_tests.csv", long_term_tests_csv(summary, tests_behind(analyses, text.sown))},
          {"report.html", report_html(shown.analyses, summary, of_shown)}};
}

}  // namespace ligule::results
