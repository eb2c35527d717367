#include "sync/desk/ledger_tables.h"
#include "sync/gather/trusted.h"

#include <algorithm>
#include <filesystem>
#include <map>

#include "storage/files/definitions.h"
#include "storage/ledger/ledger.h"
#include "sync/desk/entry_name_files.h"
#include "sync/desk/ledgers.h"
#include "sync/desk/words.h"
#include "sync/results/closed_so.h"
#include "sync/results/dry_matter_notes.h"
#include "sync/results/event_lines.h"
#include "sync/results/labels.h"
#include "sync/results/ledger_facts.h"
#include "sync/results/next_test.h"
#include "sync/results/no_weight.h"
#include "sync/results/over_cuttings.h"
#include "sync/results/rater_tables.h"
#include "sync/results/raters.h"
#include "sync/results/ratings.h"
#include "sync/results/scale_doubts.h"
#include "sync/results/sown_yield.h"
#include "sync/results/split_blocks.h"
#include "sync/results/table_files.h"
#include "sync/results/yields.h"

namespace ligule::desk {
namespace {

struct MeasureTables {
  results::Best best = results::Best::kHighest;
  std::string unit;
  bool days = false;
  std::vector<results::Analysis> analyses;
};

// Sown-species yields on one basis.
struct SownTables {
  results::SownBasis basis = results::SownBasis::kSeparated;
  std::vector<results::Analysis> analyses;
  std::vector<results::Footing> footings;
};

// All that is made of a ledger, before anything is written.
struct Made {
  std::vector<results::PlotYield> plots;
  std::vector<results::Analysis> yields;
  std::vector<results::OverCuttings> over_cuttings;
  std::optional<results::NextTest> next;
  std::map<std::string, MeasureTables> measures;  // by code
  std::map<std::string, SownTables> sown;         // by the name of its folder
  std::vector<results::SplitBlock> splits;
  std::vector<results::Footing> sampling;
  std::vector<results::EventLine> events;
  std::vector<results::TestFacts> tests;
  std::vector<results::EntryStanding> standings;
  std::vector<results::VarietyLine> varieties;
  results::RaterFigures raters;
  std::vector<results::SownYear> sown_years;
  std::vector<Error> left_out;
  std::vector<Error> notices;
  results::EntryNames names;
};

results::Best best_of(Direction direction) {
  switch (direction) {
    case Direction::kHighIsBest:
      return results::Best::kHighest;
    case Direction::kLowIsBest:
      return results::Best::kLowest;
    case Direction::kNone:
      break;
  }
  return results::Best::kNone;
}

results::Design design_of(const Plan& plan, const TablesWanted& wanted) {
  const bool randomised = plan.design == "crd";
  return wanted.design.value_or(randomised ? results::Design::kCompletelyRandomised
                                           : results::Design::kRandomisedBlocks);
}

template <class Row>
void keep_year(std::vector<Row>& rows, std::optional<int> year) {
  if (year) std::erase_if(rows, [&](const Row& row) { return row.year != *year; });
}

void append(std::vector<results::Analysis>& into, std::vector<results::Analysis> more) {
  std::ranges::move(more, std::back_inserter(into));
}

// A folder for each basis: what was adjusted by eye can't be taken for what was weighed.
Result<void> add_sown(const std::vector<results::PlotYield>& plots,
                      const results::AnalysisOptions& options, const TablesWanted& wanted,
                      Made& made) {
  using results::SownBasis;
  for (const SownBasis basis : {SownBasis::kSeparated, SownBasis::kByEye}) {
    const bool by_eye = basis == SownBasis::kByEye;
    if ((by_eye && !wanted.by_eye) || !results::has_sown_yields(plots, basis)) continue;
    const auto values = results::sown_values(plots, wanted.unit, basis);
    if (!values) return std::unexpected(values.error());
    SownTables& tables = made.sown[by_eye ? "sown_yield_by_eye" : "sown_yield"];
    tables.basis = basis;
    append(tables.analyses, results::analyse(*values, options));
    std::ranges::move(results::sown_footings(plots, basis), std::back_inserter(tables.footings));
  }
  return {};
}

// What is known of the raters, of one year where that is wanted.
void add_raters(results::RaterFigures figures, std::optional<int> year, Made& made) {
  const auto unwanted = [&](const auto& of) { return year && of.at.year != *year; };
  std::erase_if(figures.agreements, unwanted);
  std::erase_if(figures.surveys, unwanted);
  std::ranges::move(figures.agreements, std::back_inserter(made.raters.agreements));
  std::ranges::move(figures.surveys, std::back_inserter(made.raters.surveys));
  std::ranges::move(figures.left_out, std::back_inserter(made.left_out));
  std::ranges::move(figures.notices, std::back_inserter(made.notices));
}

void add_entries(const results::TrialFacts& trial, const std::string& test,
                 const Definitions& definitions, Made& made) {
  made.names.know(trial.plan, definitions);
  std::optional<int> sown;
  if (trial.plan.sown.ok()) sown = int{trial.plan.sown.year()};
  const auto printed = [&](const std::string& label) { return made.names.printed(label, sown); };
  results::add_varieties(trial, test, definitions, printed, made.varieties);
  std::ranges::move(results::entry_standings(trial, test, printed),
                    std::back_inserter(made.standings));
}

Result<void> add_trial(const results::TrialFacts& trial, const std::string& test,
                       const TablesWanted& wanted, const Definitions& definitions, Made& made) {
  results::AnalysisOptions options;
  options.design = design_of(trial.plan, wanted);
  options.alpha = wanted.report.alpha;
  if (trial.plan.sown.ok()) made.sown_years.push_back({test, int{trial.plan.sown.year()}});
  results::TrialYields yields = results::yields_of(trial, test);
  keep_year(yields.plots, wanted.year);
  auto values = results::plot_values(yields.plots, wanted.unit);
  if (!values) return std::unexpected(values.error());
  made.names.take(*values);
  made.names.rename(yields.plots);
  std::vector<results::Analysis> analyses = results::analyse(*values, options);
  std::ranges::move(results::over_cuttings(*values, analyses, options.design),
                    std::back_inserter(made.over_cuttings));
  append(made.yields, std::move(analyses));
  std::ranges::move(results::sampling_footings(trial, test, yields.plots),
                    std::back_inserter(made.sampling));
  if (const auto sown = add_sown(yields.plots, options, wanted, made); !sown) return sown;
  made.tests.push_back(results::test_facts(trial, test, yields.plots, definitions));
  std::ranges::move(yields.plots, std::back_inserter(made.plots));
  std::ranges::move(yields.left_out, std::back_inserter(made.left_out));
  std::ranges::move(yields.notices, std::back_inserter(made.notices));

  std::vector<results::SplitBlock> splits = results::split_blocks(trial, test);
  keep_year(splits, wanted.year);
  std::ranges::move(splits, std::back_inserter(made.splits));
  std::vector<results::EventLine> events = results::event_lines(trial, test);
  keep_year(events, wanted.year);
  std::ranges::move(events, std::back_inserter(made.events));
  add_entries(trial, test, definitions, made);

  options.totals = false;
  results::TrialRatings ratings = results::ratings_of(trial, test);
  for (results::MeasureValues& measure : ratings.measures) {
    keep_year(measure.values, wanted.year);
    if (measure.values.empty()) continue;
    made.names.take(measure.values);
    MeasureTables& tables = made.measures[measure.measure];
    tables.best = options.best = best_of(measure.direction);
    tables.unit = measure.unit;
    tables.days = measure.days;
    append(tables.analyses, results::analyse(measure.values, options));
  }
  std::ranges::move(ratings.left_out, std::back_inserter(made.left_out));
  return {};
}

Result<Made> make(const results::LedgerFacts& facts, const TablesWanted& wanted,
                  const Definitions& definitions) {
  const std::vector<std::string> names = results::test_names(facts.trials);
  std::map<std::string, const results::TrialFacts*> by_name;  // tests stand in byte order
  for (std::size_t i = 0; i < names.size(); ++i) by_name[names[i]] = &facts.trials[i];
  Made made;
  made.names = wanted.names;
  for (const auto& [name, trial] : by_name) {
    if (const auto added = add_trial(*trial, name, wanted, definitions, made); !added) {
      return std::unexpected(added.error());
    }
    add_raters(results::raters_of(*trial, name, facts.people), wanted.year, made);
    std::ranges::move(results::closed_so_notices(*trial, name, wanted.year),
                      std::back_inserter(made.notices));
  }
  std::ranges::sort(made.standings, results::standing_before);
  std::ranges::move(results::scale_notices(facts, names, wanted.year),
                    std::back_inserter(made.notices));
  if (wanted.wished_lsd) {
    made.next =
        results::next_test(made.yields, *wanted.wished_lsd, wanted.report.alpha);
  }
  return made;
}

std::string in_words(std::string code) {
  std::ranges::replace(code, '_', ' ');
  if (!code.empty() && code.front() >= 'a' && code.front() <= 'z') {
    code.front() = static_cast<char>(code.front() - 'a' + 'A');
  }
  return code;
}

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
      columns.push_back({.measure = code,
                         .heading = in_words(code),
                         .day = told,
                         .below = std::move(below),
                         .order = day + " " + code,
                         .is_date = tables.days,
                         .analysis = analysis});
    }
  }
  return columns;
}

void add_sown_folders(const Made& made, const results::ReportText& common,
                      std::vector<results::TableFolder>& folders) {
  for (const auto& [name, tables] : made.sown) {
    results::ReportText text = common;
    text.measure = tables.basis == results::SownBasis::kByEye
                       ? "Dry-matter yield of sown species, adjusted by eye"
                       : "Dry-matter yield of sown species";
    text.footings = tables.footings;
    text.raters = {};
    text.ratings = {};
    text.events = of_tests(tables.analyses, made.events);
    text.tests = of_tests(tables.analyses, made.tests);
    folders.push_back({"measures/" + name, tables.analyses, std::move(text)});
  }
}

void add_measure_folders(const Made& made, const results::ReportText& common,
                         std::vector<results::TableFolder>& folders) {
  for (const auto& [code, tables] : made.measures) {
    results::ReportText text = common;
    text.cuttings = false;
    text.footings.clear();
    text.compositions.clear();
    text.ratings.clear();
    text.measure = in_words(code);
    text.events = of_tests(tables.analyses, made.events);
    text.tests = of_tests(tables.analyses, made.tests);
    text.raters = raters_of_measure(made.raters, code);
    text.unit = tables.unit;
    text.best = tables.best;
    text.days = tables.days;
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
  if (!made.over_cuttings.empty())
    others.push_back({"over_cuttings.csv", results::over_cuttings_csv(made.over_cuttings)});
  if (made.next) others.push_back({"next_test.csv", results::next_test_csv(*made.next)});
  const auto basis = wanted.by_eye ? results::SownBasis::kByEye : results::SownBasis::kSeparated;
  const Result<std::string> compositions = results::composition_csv(printed, wanted.unit, basis);
  if (!compositions) return std::unexpected(compositions.error());
  if (!compositions->empty()) others.push_back({"composition.csv", *compositions});
  std::ranges::move(results::rater_files(made.raters), std::back_inserter(others));
  std::vector<results::TableFolder> folders{{"", made.yields, text, std::move(others)}};
  add_sown_folders(made, text, folders);
  add_measure_folders(made, text, folders);
  return folders;
}

void list_left_out(const std::vector<Error>& left_out, Console& console) {
  if (left_out.empty()) return;
  for (const Error& value : left_out) console.err << "left out: " << one_line(value) << '\n';
  console.err << left_out.size() << (left_out.size() == 1 ? " value is" : " values are")
              << " left out of the tables until somebody decides\n";
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

}  // namespace

Exit tables_of_ledger(const std::string& path, const TablesWanted& wanted, Console& console) {
  const Result<ledger::Ledger> ledger = ledger::Ledger::open(path, ledger::Access::kReadOnly);
  if (!ledger) {
    return refuse_file(console, ledger.error(), "nothing was analysed");
  }
  const Result<results::LedgerFacts> facts = results::facts_of(*ledger);
  if (!facts) return report_faults(console, {&facts.error(), 1}, "nothing was analysed");
  Result<Made> made = make(*facts, wanted, definitions_of(path, console));
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
  if (made->next) {
    for (const std::string& line : results::next_test_lines(*made->next, wanted.unit))
      console.out << line << '\n';
  }
  if (!made->raters.empty())
    console.out << "how the raters agree: report.html and "
                << (made->raters.agreements.empty() ? "rater_effects.csv" : "raters.csv") << '\n';
  console.out << counted(std::ssize(made->plots), "plot value") << ", "
              << tests_and_analyses(made->yields) << ", "
              << counted(std::ssize(made->measures), "other measure") << ": " << wanted.folder
              << " holds tests.csv, means.csv, long_term.csv, long_term_tests.csv, "
              << (made->over_cuttings.empty() ? "" : "over_cuttings.csv, ")
              << (made->next ? "next_test.csv, " : "") << "report.html and plots.csv\n";
  return Exit::kDone;
}

}  // namespace ligule::desk
