#include "sync/desk/ledger_tables.h"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <tuple>

#include "storage/files/assets.h"
#include "storage/files/definitions.h"
#include "storage/files/soil_tables.h"
#include "storage/ledger/ledger.h"
#include "sync/desk/entry_name_files.h"
#include "sync/desk/ledgers.h"
#include "sync/desk/made_tables.h"
#include "sync/desk/words.h"
#include "sync/gather/trusted.h"
#include "sync/results/dry_matter_notes.h"
#include "sync/results/labels.h"
#include "sync/results/ledger_facts.h"
#include "sync/results/next_test.h"
#include "sync/results/no_weight.h"
#include "sync/results/over_cuttings.h"
#include "sync/results/rater_tables.h"
#include "sync/results/raters.h"
#include "sync/results/sown_yield.h"
#include "sync/results/split_blocks.h"
#include "sync/results/table_files.h"
#include "sync/results/yields.h"

namespace ligule::desk {
namespace {

// Those of the tests that have an analysis of a measure.
template <class Of>
std::vector<Of> of_tests(const std::vector<results::Analysis>& analyses,
                         const std::vector<Of>& all) {
  std::vector<Of> of;
  std::ranges::copy_if(all, std::back_inserter(of), [&](const Of& each) {
    return std::ranges::find(analyses, each.test, &results::Analysis::test) != analyses.end();
  });
  return of;
}

// Those of one measure.
results::RaterFigures raters_of_measure(const results::RaterFigures& all,
                                        const std::string& measure) {
  results::RaterFigures figures;
  const auto wanted = [&](const auto& of) { return of.at.measure == measure; };
  std::ranges::copy_if(all.agreements, std::back_inserter(figures.agreements), wanted);
  std::ranges::copy_if(all.surveys, std::back_inserter(figures.surveys), wanted);
  return figures;
}

// When a pass was done, as a column says it and as columns are ordered.
std::pair<std::string, std::string> day_of(const results::Analysis& analysis,
                                           const std::vector<results::TestFacts>& tests) {
  const auto test = std::ranges::find(tests, analysis.test, &results::TestFacts::test);
  if (test == tests.end()) return {};
  const auto pass = std::ranges::find(test->passes, analysis.cutting, &results::PassDays::code);
  if (pass == test->passes.end()) return {};
  return {results::days_and_month(pass->first, pass->last), format_date(pass->first)};
}

// Every rating as a column beside the yields of its test.
std::vector<results::RatingColumn> rating_columns(const Made& made) {
  std::vector<results::RatingColumn> columns;
  for (const auto& [code, tables] : made.measures) {
    for (const results::Analysis& analysis : tables.analyses) {
      const auto [told, day] = day_of(analysis, made.tests);
      std::string below = told;
      if (!tables.unit.empty() && !tables.days) below += (below.empty() ? "" : ", ") + tables.unit;
      std::string order = day;
      order += ' ';
      order += code;
      columns.push_back({.measure = code,
                         .heading = results::headed(results::in_words(code)),
                         .day = told,
                         .below = std::move(below),
                         .order = std::move(order),
                         .is_date = tables.days,
                         .analysis = analysis,
                         .is_ratio = tables.ratio});
    }
  }
  return columns;
}

// What a report of other values says alike: what is told of the yields stays with them.
results::ReportText without_yields(const results::ReportText& common) {
  results::ReportText text = common;
  text.footings.clear();
  text.raters = {};
  text.ratings.clear();
  text.stands.clear();
  text.grazing.clear();
  text.over_cuttings.clear();
  text.trends.clear();
  text.gains.clear();
  return text;
}

void add_sown_folders(const Made& made, const results::ReportText& common,
                      std::vector<results::TableFolder>& folders) {
  for (const auto& [name, tables] : made.sown) {
    results::ReportText text = without_yields(common);
    text.measure = tables.basis == results::SownBasis::kByEye
                       ? "Dry-matter yield of sown species, adjusted by eye"
                       : "Dry-matter yield of sown species";
    text.footings = tables.footings;
    text.events = of_tests(tables.analyses, made.events);
    text.tests = of_tests(tables.analyses, made.tests);
    folders.push_back({"measures/" + name, tables.analyses, std::move(text)});
  }
}

void add_measure_folders(const Made& made, const results::ReportText& common,
                         std::vector<results::TableFolder>& folders) {
  for (const auto& [code, tables] : made.measures) {
    results::ReportText text = without_yields(common);
    text.cuttings = false;
    text.compositions.clear();
    text.measure = results::headed(results::in_words(code));
    text.events = of_tests(tables.analyses, made.events);
    text.tests = of_tests(tables.analyses, made.tests);
    text.raters = raters_of_measure(made.raters, code);
    text.unit = tables.unit;
    text.best = tables.best;
    text.days = tables.days;
    text.percents = tables.ratio && !tables.days;
    folders.push_back({"measures/" + code, tables.analyses, std::move(text)});
  }
}

// All folders, the one of the yields first.
Result<std::vector<results::TableFolder>> folders_of(const Made& made, results::ReportText text,
                                                     const TablesWanted& wanted) {
  text.measure = "Dry-matter yield";
  text.unit = wanted.unit;
  text.events = made.events;
  text.tests = made.tests;
  text.ratings = rating_columns(made);
  text.standings = made.standings;
  text.varieties = made.varieties;
  text.raters = made.raters;
  text.sown = made.sown_years;
  text.stands = made.stands;
  text.grazing = made.grazing;
  text.over_cuttings = made.over_cuttings;
  text.trends = made.trends;
  text.gains = made.gains;
  made.names.tell(text);
  const std::vector<results::PlotYield> printed = made.names.printed(made.plots);
  text.compositions = results::entry_compositions(printed);
  text.footings = results::split_footings(made.splits);
  std::ranges::move(results::no_weight_footings(made.plots), std::back_inserter(text.footings));
  std::ranges::move(results::dry_matter_footings(made.plots), std::back_inserter(text.footings));
  std::ranges::copy(made.sampling, std::back_inserter(text.footings));
  std::vector<results::OutputFile> others;
  const Result<std::string> plots = results::plots_csv(printed, wanted.unit);
  if (!plots) return std::unexpected(plots.error());
  others.push_back({"plots.csv", *plots});
  if (results::has_table(made.over_cuttings))
    others.push_back({"over_cuttings.csv", results::over_cuttings_csv(made.over_cuttings)});
  const auto add = [&others](const char* name, std::string content) {
    if (!content.empty()) others.push_back({name, std::move(content)});
  };
  add("stand_persistence.csv", results::stand_persistence_csv(made.stands, wanted.report.alpha));
  add("grazing.csv", results::grazing_csv(made.grazing, wanted.report.alpha));
  add("designs.csv", results::designs_csv(made.gains));
  add("field_trend.csv", results::field_trend_csv(made.trends));
  add("residuals.csv", results::residuals_csv(made.trends));
  add("adjusted_means.csv", results::adjusted_means_csv(made.trends));
  if (made.next) others.push_back({"next_test.csv", results::next_test_csv(*made.next)});
  const auto basis = wanted.by_eye ? results::SownBasis::kByEye : results::SownBasis::kSeparated;
  const Result<std::string> compositions = results::composition_csv(printed, wanted.unit, basis);
  if (!compositions) return std::unexpected(compositions.error());
  add("composition.csv", *compositions);
  std::ranges::move(results::rater_files(made.raters), std::back_inserter(others));
  std::vector<results::TableFolder> folders{{"", made.yields, text, std::move(others)}};
  add_sown_folders(made, text, folders);
  add_measure_folders(made, text, folders);
  return folders;
}

// Plots of one rating or cutting that are left out for one reason stand in one line, where the
// first of them stood.
std::vector<Error> by_reason(const std::vector<Error>& left_out) {
  constexpr std::string_view kPlot = " plot ";
  struct Plots {
    std::size_t line;
    std::string place;
    std::vector<std::string> numbers;
  };
  std::vector<Error> lines;
  std::map<std::tuple<std::string, std::string, std::string>, Plots> by_line;
  for (const Error& each : left_out) {
    const std::size_t at = each.where.rfind(kPlot);
    if (at == std::string::npos) {
      lines.push_back(each);
      continue;
    }
    const std::string place = each.where.substr(0, at);
    const auto [plots, first] =
        by_line.try_emplace({place, each.what, each.mend}, Plots{lines.size(), place, {}});
    plots->second.numbers.push_back(each.where.substr(at + kPlot.size()));
    if (first) lines.push_back(each);
  }
  for (const auto& [key, plots] : by_line) {
    if (plots.numbers.size() > 1)
      lines[plots.line].where =
          fmt::format("{} plots {}", plots.place, fmt::join(plots.numbers, ", "));
  }
  return lines;
}

void list_left_out(const std::vector<Error>& left_out, Console& console) {
  if (left_out.empty()) return;
  for (const Error& line : by_reason(left_out))
    console.err << "left out: " << one_line(line) << '\n';
  console.err << "what is left out stands in no table; each line says what to do about it\n";
}

// What entries are told by. Tables can be had without it: then only what is stated of them is told.
// They need no limits either; that the program's own can't be read is said all the same, because
// the tablet does not start beside them.
Definitions definitions_of(const std::string& ledger, Console& console) {
  auto everybodys = everybodys_definitions(console);
  if (!everybodys) return {};
  const auto own = files::with_own_limits(console.files, ledger, *everybodys);
  if (!own) {
    const Error& first = own.error().front();
    const Error notice{first.kind,
                       counted(std::ssize(own.error()), "fault") +
                           " in the program's own limits, first: " + first.what,
                       first.where,
                       "tables need no limits; mend it before ligule, enrol or take-in need them"};
    console.out << "to look at: " << one_line(notice) << '\n';
  }
  return *std::move(everybodys);
}

// What judges soil tests. Without it they are told as the laboratory has them.
SoilTables soil_tables_of(Console& console) {
  const auto assets = files::find_assets(console.files);
  if (!assets) return {};
  return files::load_soil_tables(console.files, *assets).value_or(SoilTables{});
}

}  // namespace

Exit tables_of_ledger(const std::string& path, const TablesWanted& wanted, Console& console) {
  const Result<ledger::Ledger> ledger = ledger::Ledger::open(path, ledger::Access::kReadOnly);
  if (!ledger) {
    return refuse_file(console, ledger.error(), "nothing was analysed");
  }
  // One changed digit would be one wrong mean, and pages do not show it.
  if (const auto whole = ledger->check_what_is_held(); !whole)
    return refuse_file(console, whole.error(), "nothing was analysed");
  const Result<results::LedgerFacts> facts = results::facts_of(*ledger);
  if (!facts) return report_faults(console, {&facts.error(), 1}, "nothing was analysed");
  Result<Made> made =
      make_tables(*facts, wanted, definitions_of(path, console), soil_tables_of(console));
  if (!made) return report_faults(console, {&made.error(), 1}, "nothing was analysed");
  if (const std::vector<Error> faults = made->names.faults(); !faults.empty())
    return report_faults(console, faults, "nothing was analysed");
  const auto doubtful = gather::doubtful(*ledger);
  if (!doubtful) return refuse_file(console, doubtful.error(), "nothing was analysed");
  for (const gather::Doubtful& each : *doubtful)
    made->notices.push_back({ErrorKind::kNotTrusted, each.line() + "; they count", path,
                             "withdraw what is wrong, or gather into a new ledger without them"});

  results::ReportText text;
  text.source = wanted.source.value_or(std::filesystem::path(path).filename().string());
  text.demonstration = facts->demonstration;
  auto folders = folders_of(*made, std::move(text), wanted);
  if (!folders) return report_faults(console, {&folders.error(), 1}, "nothing was written");
  const std::string files = files_told(folders->front());
  if (const auto written = write_folders(*folders, wanted.folder, wanted.report, console);
      written != Exit::kDone)
    return written;
  list_left_out(made->left_out, console);
  for (const Error& notice : made->notices) {
    console.out << "to look at: " << one_line(notice) << '\n';
  }
  tell_names(made->names, console);
  for (const auto& [name, tables] : made->sown) {
    console.out << (tables.basis == results::SownBasis::kByEye
                        ? "sown-species yields, adjusted by eye: measures/"
                        : "sown-species yields by separated samples: measures/")
                << name << '\n';
  }
  if (const auto& next = made->next) {
    for (const std::string& line : results::next_test_lines(*next, wanted.unit))
      console.out << line << '\n';
  }
  if (!made->raters.empty())
    console.out << "how the raters agree: report.html and "
                << (made->raters.agreements.empty() ? "rater_effects.csv" : "raters.csv") << '\n';
  console.out << counted(std::ssize(made->plots), "plot value") << ", "
              << tests_and_analyses(made->yields) << ", "
              << counted(std::ssize(made->measures), "other measure") << ": " << wanted.folder
              << " holds " << files << "\n";
  return Exit::kDone;
}

}  // namespace ligule::desk
