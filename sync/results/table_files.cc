#include "sync/results/table_files.h"

#include <future>

#include "sync/results/long_term.h"
#include "sync/results/tables.h"

namespace ligule::results {

std::vector<OutputFile> table_files(std::span<const Analysis> analyses, const ReportText& text) {
  const std::vector<LongTermRow> summary = long_term(analyses, text.min_tests);
  // The report takes as long as all the rest: beside it.
  auto report = std::async(std::launch::async | std::launch::deferred,
                           [&] { return report_html(analyses, summary, text); });
  std::vector<OutputFile> files = {
      {"tests.csv", tests_csv(analyses)},
      {"means.csv", means_csv(analyses)},
      {"long_term.csv", long_term_csv(summary)},
      {"long_term_tests.csv", long_term_tests_csv(summary, tests_behind(analyses, text.sown))}};
  files.push_back({"report.html", report.get()});
  return files;
}

}  // namespace ligule::results
