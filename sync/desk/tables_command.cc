// tables: plot values into result tables and a report.
#include <algorithm>
#include <filesystem>

#include "sync/desk/command.h"
#include "sync/results/analysis.h"
#include "sync/results/long_term.h"
#include "sync/results/output.h"
#include "sync/results/report.h"
#include "sync/results/tables.h"
#include "sync/results/values_file.h"

namespace ligule::desk {
namespace {

std::string counted(std::size_t count, const std::string& one, const std::string& several) {
  return std::to_string(count) + " " + (count == 1 ? one : several);
}

std::size_t count_tests(const std::vector<results::Analysis>& analyses) {
  std::size_t tests = 0;
  for (std::size_t i = 0; i < analyses.size(); ++i) {
    if (i == 0 || analyses[i].test != analyses[i - 1].test) ++tests;
  }
  return tests;
}

Exit write_tables(const std::vector<results::PlotValue>& values,
                  const results::AnalysisOptions& options, const results::ReportText& text,
                  const std::string& folder, Console& console) {
  const std::vector<results::Analysis> analyses = results::analyse(values, options);
  const std::vector<results::LongTermRow> summary = results::long_term(analyses, text.min_tests);
  const Result<void> written =
      results::write_output(console.files, folder,
                            {{"tests.csv", results::tests_csv(analyses)},
                             {"means.csv", results::means_csv(analyses)},
                             {"long_term.csv", results::long_term_csv(summary)},
                             {"report.html", results::report_html(analyses, summary, text)}});
  if (!written) {
    return report_faults(console, {&written.error(), 1}, "the tables are not complete");
  }
  console.out << counted(values.size(), "plot value", "plot values") << ", "
              << counted(count_tests(analyses), "test", "tests") << ", "
              << counted(analyses.size(), "analysis", "analyses") << ": " << folder
              << " holds tests.csv, means.csv, long_term.csv and report.html\n";
  return Exit::kDone;
}

Exit run_tables(const Arguments& arguments, Console& console) {
  const auto min_tests = arguments.whole_number("--min-tests", 1, 1000);
  if (!min_tests) return refuse_arguments(console, min_tests.error());

  const std::string path = arguments.text("--values");
  const Result<results::ValuesFile> file = results::read_values(console.files, path);
  if (!file) {
    console.err << one_line(file.error()) << '\n' << "nothing was analysed\n";
    return Exit::kCouldNot;  // whatever the kind: this is no table of values at all
  }
  if (!file->faults.empty()) {
    return report_faults(
        console, file->faults,
        counted(file->faults.size(), "fault", "faults") + " in " + path + "; nothing was analysed");
  }
  results::AnalysisOptions options;
  if (arguments.text("--design") == "crd") options.design = results::Design::kCompletelyRandomised;
  results::ReportText text;
  text.source = std::filesystem::path(path).filename().string();
  text.min_tests = static_cast<std::size_t>(min_tests->value_or(2));
  return write_tables(file->values, options, text, arguments.text("--out"), console);
}

}  // namespace

Command tables_command() {
  return {
      .name = "tables",
      .help = "Analyse plot values and write tests.csv, means.csv, long_term.csv and report.html",
      .options =
          {
              {.name = "--values",
               .value = "FILE.csv",
               .help = "Plot values: test,site,year,cutting,rep,entry,value[,plot]",
               .required = true},
              {.name = "--out", .value = "DIR", .help = "Folder for the files", .required = true},
              {.name = "--design",
               .value = "DESIGN",
               .help = "rcb: randomised complete blocks; crd: completely randomised",
               .allowed = {"rcb", "crd"},
               .standard = "rcb"},
              {.name = "--min-tests",
               .value = "N",
               .help = "No long-term average below this many tests (2)",
               .standard = "2"},
          },
      .run = run_tables,
  };
}

}  // namespace ligule::desk
