#include "sync/wide/cuttings_table.h"

#include <map>

#include "storage/trial/quantity.h"
#include "sync/results/samples.h"
#include "sync/results/yields.h"
#include "sync/wide/cells.h"
#include "sync/wide/visit.h"

namespace ligule::wide {
namespace {

using enum files::CellType;
using files::kMayBeEmpty;
using files::kRequired;

WideTable empty_table() {
  WideTable table{
      .name = "cuttings",
      .description =
          "One row a plot and cutting, as far as these records tell: with the dry weights on "
          "another tablet there is no yield here. The tables of a gathered ledger are the "
          "results.",
      .columns = visit_columns({"cutting", kInteger, kRequired, "first, second ... of its year"}),
      .primary_key = visit_key(),
      .references = visit_references()};
  const std::vector<files::Column> of_cutting{
      {"cut_on", kDate, kRequired, "day it was cut"},
      {"gross_kg", kNumber, kMayBeEmpty, "fresh weight with bags, kg"},
      {"tare_kg", kNumber, kMayBeEmpty, "empty bags, kg"},
      {"net_kg", kNumber, kMayBeEmpty, "fresh weight, kg"},
      {"area_m2", kNumber, kMayBeEmpty, "area that was cut, square metres"},
      {"dry_matter", kNumber, kMayBeEmpty, "dry weight over fresh weight, 0 to 1"},
      {"dry_matter_from", kText, kMayBeEmpty,
       "own sample, composite sample, entry mean of the day, trial mean of the day"},
      {"bags", kText, kMayBeEmpty, "numbers of the sample bags, one space between"},
      {"without_own_sample_because", kText, kMayBeEmpty, "why no sample of its own could be used"},
      {"yield_kg_ha", kNumber, kMayBeEmpty, "dry matter of what was sown, kg per hectare"},
      {"total_kg_ha", kNumber, kMayBeEmpty, "dry matter of all that was cut, kg per hectare"},
      {"without_yield_because", kText, kMayBeEmpty, "why there is no yield"},
      {"nothing_weighed", kText, kMayBeEmpty,
       "why nothing that was sown was weighed: a code or somebody's words"}};
  table.columns.insert(table.columns.end(), of_cutting.begin(), of_cutting.end());
  return table;
}

std::optional<Kilograms> net(const results::PlotYield& row) {
  if (!row.gross) return std::nullopt;
  return *row.gross - row.tare.value_or(Kilograms(0.0));
}

// The cuttings of a plan by year and number.
std::map<std::pair<int, int>, OccasionId> cuttings_of(const Plan& plan) {
  std::map<std::pair<int, int>, OccasionId> cuttings;
  for (const PlanOccasion& occasion : plan.occasions) {
    if (occasion.job == Job::kHarvest)
      cuttings.emplace(std::pair(occasion.year, occasion.cutting), plan.occasion(occasion));
  }
  return cuttings;
}

void add_trial(const results::TrialFacts& trial, const std::string& test, WideTable& into) {
  const auto cuttings = cuttings_of(trial.plan);
  const auto yields = results::yields_of(trial, test);
  for (const results::PlotYield& row : yields.plots) {
    const auto cutting = cuttings.find({row.year, row.cutting});
    if (cutting == cuttings.end()) continue;  // yields_of() goes by the plan
    std::vector<std::string> cells =
        visit_cells({plot_id(trial.plan.id(), row.plot).uuid, cutting->second, row.test, row.site,
                     row.year, std::to_string(row.cutting), row.plot, row.block, row.entry});
    const std::vector<std::string> of_cutting{
        format_date(row.cut_on),
        cell(row.gross),
        cell(row.tare),
        cell(net(row)),
        cell(row.area),
        cell(row.dry_matter.fraction),
        std::string(name_of(row.dry_matter.from)),
        cell(row.dry_matter.bags),
        row.dry_matter.why,
        cell(row.yield),
        cell(row.total),
        row.why,
        row.no_weight ? row.no_weight->reason : std::string()};
    cells.insert(cells.end(), of_cutting.begin(), of_cutting.end());
    into.add(std::move(cells));
  }
}

}  // namespace

WideTable cuttings_table(const results::LedgerFacts& facts) {
  WideTable table = empty_table();
  const auto names = results::test_names(facts.trials);
  for (std::size_t n = 0; n < facts.trials.size(); ++n) add_trial(facts.trials[n], names[n], table);
  return table;
}

}  // namespace ligule::wide
