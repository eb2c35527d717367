// tables: plot values into result tables and a report.
#include <algorithm>
#include <cstdint>
#include <expected>
#include <filesystem>
#include <iterator>
#include <string>
#include <vector>

#include "sync/desk/archive_commands.h"
#include "sync/desk/command.h"
#include "sync/desk/entry_name_files.h"
#include "sync/desk/ledger_tables.h"
#include "sync/desk/ledgers.h"
#include "sync/desk/words.h"
#include "sync/results/analysis.h"
#include "sync/results/design_gain.h"
#include "sync/results/next_test.h"
#include "sync/results/over_cuttings.h"
#include "sync/results/skipped_rows.h"
#include "sync/results/table_files.h"
#include "sync/results/test_results.h"
#include "sync/results/tests_behind.h"
#include "sync/results/values_file.h"

namespace ligule::desk {
namespace {

// The rows that are analysed, and what the report says of its source.
struct ValuesTaken {
  std::vector<results::PlotValue> values;
  std::string source;
};

std::string faults_in(const results::ValuesFile& file, const std::string& path) {
  return counted(std::ssize(file.faults), "fault") + " in " + path + "; ";
}

// Without the bad rows, because somebody said so: they are listed all the same.
std::expected<ValuesTaken, Exit> skip_bad(const results::ValuesFile& file, const std::string& path,
                                          const std::string& source, Console& console) {
  if (!file.rows_read || file.values.empty()) {
    const std::string why =
        file.rows_read ? "no row would be left" : "--skip-bad leaves out rows only";
    return std::unexpected(report_faults(console, file.faults,
                                         faults_in(file, path) + why + ", nothing was analysed"));
  }
  results::SkippedRows skipped = results::without_bad_rows(file, path);
  for (const Error& fault : file.faults) console.err << one_line(fault) << '\n';
  for (const Error& notice : skipped.notices) console.err << one_line(notice) << '\n';
  const std::string words = results::left_out_words(skipped);
  console.out << words << '\n';
  if (skipped.nowhere > 0) {
    console.out << "to look at: " << counted(static_cast<std::int64_t>(skipped.nowhere), "bad row")
                << " can't be placed and not even counted as missing; an entry without another row "
                   "in a cutting counts as not scheduled there\n";
  }
  return ValuesTaken{std::move(skipped.values), source + ", " + words};
}

// The file's values; the error is what to end with.
std::expected<ValuesTaken, Exit> take_values(const std::string& path, bool skip, Console& console) {
  Result<results::ValuesFile> file = results::read_values(console.files, path);
  if (!file) return std::unexpected(refuse_file(console, file.error(), "nothing was analysed"));
  if (file->faults.empty() && file->values.empty()) {
    const Error nothing{ErrorKind::kInvalid, "there is no row below the header", path,
                        "write one row a plot and cutting; a plot without a value has a row too"};
    return std::unexpected(report_faults(console, {&nothing, 1}, "nothing was analysed"));
  }
  std::string source = std::filesystem::path(path).filename().string();
  if (file->faults.empty()) return ValuesTaken{std::move(file->values), std::move(source)};
  if (skip) return skip_bad(*file, path, source, console);
  return std::unexpected(
      report_faults(console, file->faults, faults_in(*file, path) + "nothing was analysed"));
}

Exit tables_of_values(const std::string& path, bool skip, const TablesWanted& wanted,
                      Console& console) {
  auto taken = take_values(path, skip, console);
  if (!taken) return taken.error();
  results::EntryNames names = wanted.names;
  names.take(taken->values);
  if (const std::vector<Error> faults = names.faults(); !faults.empty())
    return report_faults(console, faults, "nothing was analysed");
  results::AnalysisOptions options;
  options.design = wanted.design.value_or(results::Design::kRandomisedBlocks);
  options.alpha = wanted.report.alpha;
  const std::vector<results::PlotValue>& values = taken->values;
  results::TestResults made = results::test_results(values, options);
  std::vector<results::TableFolder> folders(1);
  results::TableFolder& tables = folders.front();
  tables.analyses = std::move(made.analyses);
  tables.text.source = taken->source;
  names.tell(tables.text);
  tables.text.standings = results::printed_rows(
      std::move(made.standings), &results::EntryStanding::entry, tables.text.known.names());
  // They come in this order, which only other names in print can upset.
  if (!std::ranges::is_sorted(tables.text.standings, results::standing_before))
    std::ranges::sort(tables.text.standings, results::standing_before);
  tables.text.over_cuttings = std::move(made.over_cuttings);
  tables.text.gains = std::move(made.gains);
  if (!tables.text.gains.empty())
    tables.others.push_back({"designs.csv", results::designs_csv(tables.text.gains)});
  if (results::has_table(tables.text.over_cuttings)) {
    tables.others.push_back(
        {"over_cuttings.csv", results::over_cuttings_csv(tables.text.over_cuttings)});
  }
  std::vector<std::string> lines;
  if (wanted.wished_lsd) {
    const auto next = results::next_test(tables.analyses, *wanted.wished_lsd, options.alpha);
    tables.others.push_back({"next_test.csv", results::next_test_csv(next)});
    lines = results::next_test_lines(next, tables.text.unit);
  }
  const std::string files = files_told(tables);
  if (const Exit written = write_folders(folders, wanted.folder, wanted.report, console);
      written != Exit::kDone)
    return written;
  for (const Error& notice : results::left_out_notices(tables.analyses))
    console.out << "to look at: " << one_line(notice) << '\n';
  tell_names(names, console);
  for (const std::string& line : lines) console.out << line << '\n';
  console.out << counted(std::ssize(values), "plot value") << ", "
              << tests_and_analyses(tables.analyses) << ": " << wanted.folder << " holds " << files
              << "\n";
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
  if (!values && arguments.has("--skip-bad")) {
    return refuse_arguments(console, {ErrorKind::kInvalid, "--skip-bad goes with --values only", "",
                                      "leave it out: only a file has bad rows"});
  }
  auto names = entry_names_given(arguments, console);
  if (!names) return names.error();
  TablesWanted wanted;
  wanted.names = *std::move(names);
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
  if (values) return tables_of_values(*values, arguments.has("--skip-bad"), wanted, console);
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
              {.name = "--skip-bad",
               .help = "With --values: leave bad rows out, listed and counted; those whose plot "
                       "can be read count as missing"},
          },
      .run = run_tables,
  };
  std::ranges::move(report_options(), std::back_inserter(command.options));
  std::ranges::move(entry_name_options(), std::back_inserter(command.options));
  return command;
}

}  // namespace ligule::desk
