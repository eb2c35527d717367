#include "sync/desk/made_tables.h"

#include <algorithm>
#include <iterator>
#include <utility>

#include "sync/results/closed_so.h"
#include "sync/results/dropped_plots.h"
#include "sync/results/dry_matter_notes.h"
#include "sync/results/from_paper.h"
#include "sync/results/printed_stands.h"
#include "sync/results/ratings.h"
#include "sync/results/scale_doubts.h"
#include "sync/results/soil_facts.h"

namespace ligule::desk {
namespace {

results::Design design_of(const Plan& plan, const TablesWanted& wanted) {
  return wanted.design.value_or(results::design_named(plan.design));
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

// The year by which names of a trial go: any that has values, since no name changes inside a test.
std::optional<int> year_of_names(const results::TrialFacts& trial) {
  const std::vector<results::PassDays> passes = results::pass_days(trial);
  if (!passes.empty()) return passes.back().year;
  return trial.plan.sown.ok() ? std::optional(int{trial.plan.sown.year()}) : std::nullopt;
}

// `made` must outlive the answer.
results::PrintedName printed_names(const results::TrialFacts& trial, const Made& made) {
  return [&made, year = year_of_names(trial)](const std::string& label) {
    return made.names.printed(label, year);
  };
}

void add_entries(const results::TrialFacts& trial, const std::string& test,
                 const Definitions& definitions, Made& made) {
  made.names.know(trial.plan, year_of_names(trial), definitions);
  const results::PrintedName printed = printed_names(trial, made);
  results::add_varieties(trial, test, definitions, printed, made.varieties);
  std::ranges::move(results::entry_standings(trial, test, printed),
                    std::back_inserter(made.standings));
}

// What the design gained, and whether the ground shows through.
void add_field(const std::vector<results::PlotValue>& values,
               const results::AnalysisOptions& options, const results::PrintedName& printed,
               Made& made) {
  std::ranges::move(results::design_gains(values, options), std::back_inserter(made.gains));
  for (results::FieldTrend& trend : results::field_trends(values, options)) {
    results::print_names(trend, printed);
    made.trends.push_back(std::move(trend));
  }
}

// Of all years, or none where one is wanted: what is left of a stand is not of a year.
void add_stands(const results::TrialFacts& trial, const std::string& test,
                const results::AnalysisOptions& options, std::optional<int> year, Made& made) {
  if (year) return;
  const results::PrintedName printed = printed_names(trial, made);
  results::StandTables stands = results::stand_persistence_of(trial, test, options);
  for (results::StandPersistence& table : stands.tables) {
    results::print_names(table, printed);
    made.stands.push_back(std::move(table));
  }
  std::ranges::move(stands.notices, std::back_inserter(made.notices));
  if (auto grazing = results::grazing_of(trial, test, options)) {
    results::print_names(*grazing, printed);
    std::ranges::move(grazing->notices, std::back_inserter(made.notices));
    made.grazing.push_back(*std::move(grazing));
  }
}

void add_ratings(const results::TrialFacts& trial, const std::string& test,
                 results::AnalysisOptions options, std::optional<int> year, Made& made) {
  options.totals = false;
  results::TrialRatings ratings = results::ratings_of(trial, test);
  for (results::MeasureValues& measure : ratings.measures) {
    keep_year(measure.values, year);
    if (measure.values.empty()) continue;
    made.names.take(measure.values);
    MeasureTables& tables = made.measures[measure.measure];
    tables.best = options.best = results::best_of(measure.direction);
    tables.unit = measure.unit;
    tables.days = measure.days;
    tables.ratio = measure.ratio;
    append(tables.analyses, results::analyse(measure.values, options));
  }
  std::ranges::move(ratings.left_out, std::back_inserter(made.left_out));
}

Result<void> add_trial(const results::TrialFacts& trial, const std::string& test,
                       const TablesWanted& wanted, const Definitions& definitions,
                       const SoilTables& soil, Made& made) {
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
  std::ranges::move(results::over_cuttings(*values, options),
                    std::back_inserter(made.over_cuttings));
  std::ranges::move(results::design_notices(analyses), std::back_inserter(made.notices));
  append(made.yields, std::move(analyses));
  add_field(*values, options, printed_names(trial, made), made);
  std::ranges::move(results::sampling_footings(trial, test, yields.plots),
                    std::back_inserter(made.sampling));
  std::ranges::move(results::paper_footings(trial, test), std::back_inserter(made.sampling));
  if (const auto sown = add_sown(yields.plots, options, wanted, made); !sown) return sown;
  made.tests.push_back(results::test_facts(trial, test, yields.plots, definitions));
  std::ranges::move(results::soil_facts(trial.plan, soil, definitions),
                    std::back_inserter(made.tests.back().facts));
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

  add_stands(trial, test, options, wanted.year, made);
  add_ratings(trial, test, options, wanted.year, made);
  return {};
}

}  // namespace

Result<Made> make_tables(const results::LedgerFacts& facts, const TablesWanted& wanted,
                         const Definitions& definitions, const SoilTables& soil) {
  const std::vector<std::string> names = results::test_names(facts.trials);
  std::map<std::string, const results::TrialFacts*> by_name;  // tests stand in byte order
  for (std::size_t i = 0; i < names.size(); ++i) by_name[names[i]] = &facts.trials[i];
  Made made;
  made.names = wanted.names;
  for (const auto& [name, trial] : by_name) {
    if (const auto added = add_trial(*trial, name, wanted, definitions, soil, made); !added) {
      return std::unexpected(added.error());
    }
    add_raters(results::raters_of(*trial, name, facts.people), wanted.year, made);
    std::ranges::move(results::closed_so_notices(*trial, name, wanted.year),
                      std::back_inserter(made.notices));
    std::ranges::move(results::paper_notices(*trial, name, wanted.year),
                      std::back_inserter(made.notices));
    std::ranges::move(results::dropped_plots_notices(*trial, name, wanted.year),
                      std::back_inserter(made.notices));
  }
  std::ranges::move(results::left_out_notices(made.yields), std::back_inserter(made.notices));
  std::ranges::sort(made.standings, results::standing_before);
  std::ranges::move(results::scale_notices(facts, names, wanted.year),
                    std::back_inserter(made.notices));
  if (wanted.wished_lsd) {
    made.next = results::next_test(made.yields, *wanted.wished_lsd, wanted.report.alpha);
  }
  return made;
}

}  // namespace ligule::desk
