// tables: plot values into result tables and a report.
#include <algorithm>
#include <filesystem>
#include <iterator>

#include "sync/desk/archive_commands.h"
#include "sync/desk/command.h"
#include "sync/desk/ledger_tables.h"
#include "sync/desk/ledgers.h"
#include "sync/desk/words.h"
#include "sync/results/analysis.h"
#include "sync/results/next_test.h"
#include "sync/results/over_cuttings.h"
#include "sync/results/table_files.h"
#include "sync/results/values_file.h"

namespace ligule::desk {
namespace {

Exit tables_of_values(const std::string& path, const TablesWanted& wanted, Console& console) {
  const Result<results::ValuesFile> file = results::read_values(console.files, path);
  if (!file) {
    return refuse_file(console, file.error(), "nothing was analysed");
  }
  if (!file->faults.empty()) {
    return report_faults(
        console, file->faults,
        counted(std::ssize(file->faults), "fault") + " in " + path + "; nothing was analysed");
  }
  results::AnalysisOptions options;
  options.design = wanted.design.value_or(results::Design::kRandomisedBlocks);
  options.alpha = wanted.report.alpha;
  std::vector<results::TableFolder> folders{{"", results::analyse(file->values, options), {}}};
  results::TableFolder& tables = folders.front();
  tables.text.source = std::filesystem::path(path).filename().string();
  tables.text.standings = results::standings_in_file(file->values);
  const auto over = results::over_cuttings(file->values, tables.analyses, options.design);
  if (!over.empty())
    tables.others.push_back({"over_cuttings.csv", results::over_cuttings_csv(over)});
  std::vector<std::string> lines;
  if (wanted.wished_lsd) {
    const auto next = results::next_test(tables.analyses, *wanted.wished_lsd, options.alpha);
    tables.others.push_back({"next_test.csv", results::next_test_csv(next)});
    lines = results::next_test_lines(next, tables.text.unit);
  }
  if (const Exit written = write_folders(folders, wanted.folder, wanted.report, console);
      written != Exit::kDone)
    return written;
  for (const std::string& line : lines) console.out << line << '\n';
  console.out << counted(std::ssize(file->values), "plot value") << ", "
              << tests_and_analyses(tables.analyses) << ": " << wanted.folder
              << " holds tests.csv, means.csv, long_term.csv, long_term_tests.csv"
              << (over.empty() ? "" : ", over_cuttings.csv")
              << (wanted.wished_lsd ? ", next_test.csv" : "") << " and report.html\n";
  return Exit::kDone;
}

Exit run_tables(const Arguments& arguments, Console& console) {
  auto report = report_wanted(arguments);
  if (!report) return refuse_arguments(console, report.error());
  const auto year = arguments.whole_number("--year", 1, 9999);
  if (!year) return refuse_arguments(console, year.error());
  const std::optional<std::string> values = arguments.find("--values");
  const std::optional<std::string> ledger = arguments.find("--ledger");
  if (int{values.has_value()} + int{ledger.has_value()} + int{arguments.has("--archive")} != 1) {
    return refuse_arguments(console,
                            {ErrorKind::kInvalid, "one source of values is needed", "",
                             "give one of --values FILE.csv, --ledger FILE and --archive URL"});
  }
  if (values && (*year || arguments.has("--unit") || arguments.has("--sown-by-eye"))) {
    return refuse_arguments(
        console, {ErrorKind::kInvalid, "--year, --unit and --sown-by-eye do not go with --values",
                  "", "leave them out; values are analysed as they stand in the file"});
  }
  TablesWanted wanted;
  wanted.folder = arguments.text("--out");
  wanted.report = *std::move(report);
  if (const auto design = arguments.find("--design")) {
    wanted.design = *design == "crd" ? results::Design::kCompletelyRandomised
                                     : results::Design::kRandomisedBlocks;
  }
  if (const auto wished = arguments.find("--wished-lsd")) {
    wanted.wished_lsd = results::wished_lsd_of(*wished);
    if (!wanted.wished_lsd) {
      return refuse_arguments(
          console,
          {ErrorKind::kInvalid, "\"" + *wished + "\" cannot be used", "--wished-lsd",
           "give a number above 0 in the unit of the table, or a percent of the mean: 10%"});
    }
  }
  if (values) return tables_of_values(*values, wanted, console);
  if (const std::optional<long> only = *year) wanted.year = static_cast<int>(*only);
  wanted.by_eye = arguments.has("--sown-by-eye");
  wanted.unit = arguments.find("--unit").value_or("ton/acre");
  if (ledger) return tables_of_ledger(*ledger, wanted, console);
  return tables_of_archive(arguments.text("--archive"), wanted, console);
}

}  // namespace

Command tables_command() {
  Command command{
      .name = "tables",
      .help =
          "Analyse plot values and write tests.csv, means.csv, long_term.csv, long_term_tests.csv "
          "and report.html",
      .options =
          {
              {.name = "--values",
               .value = "FILE.csv",
               .help = "Plot values: test,site,year,cutting,rep,entry,value[,plot]"},
              {.name = "--ledger",
               .value = "FILE",
               .help = "Dry-matter yields and ratings of a ledger instead"},
              archive_option("The same of an archive that gather --archive filled"),
              {.name = "--out", .value = "DIR", .help = "Folder for the files", .required = true},
              {.name = "--design",
               .value = "DESIGN",
               .help = "rcb: randomised complete blocks (default, or as the ledger's plan says); "
                       "crd: completely randomised",
               .allowed = {"rcb", "crd"}},
              {.name = "--min-tests",
               .value = "N",
               .help = "No long-term average below this many tests (default 2)"},
              {.name = "--year",
               .value = "YEAR",
               .help = "With --ledger or --archive: this year only"},
              {.name = "--unit",
               .value = "UNIT",
               .help = "With --ledger or --archive: ton/acre (default), lb/acre, kg/ha or Mg/ha",
               .allowed = {"ton/acre", "lb/acre", "kg/ha", "Mg/ha"}},
              {.name = "--wished-lsd",
               .value = "SIZE",
               .help = "Also plan the next test: the blocks it needs for an LSD of this size, in "
                       "the unit of the table or as a percent of the mean (10%); next_test.csv"},
              {.name = "--sown-by-eye",
               .help =
                   "With --ledger or --archive: sown-species yields also by the percent of weeds "
                   "that somebody saw, where no sample was separated; total yields stay as "
                   "weighed"},
          },
      .run = run_tables,
  };
  std::ranges::move(report_options(), std::back_inserter(command.options));
  return command;
}

}  // namespace ligule::desk
