#include "sync/wide/wide_tables.h"

#include <algorithm>
#include <utility>

#include "storage/trial/record_line.h"
#include "sync/wide/cuttings_table.h"
#include "sync/wide/plan_tables.h"
#include "sync/wide/raters_table.h"
#include "sync/wide/ratings_table.h"

namespace ligule::wide {
namespace {

// Far above what one stream tells of: a plan that claims more would keep whoever seals waiting.
bool is_small(const results::LedgerFacts& facts) {
  constexpr std::size_t kMostVisits =
      1'000'000;  // plots of a trial, times its ratings and cuttings
  std::size_t visits = 0;
  for (const results::TrialFacts& trial : facts.trials)
    visits += trial.plan.plots.size() * std::max<std::size_t>(1, trial.plan.occasions.size());
  return visits <= kMostVisits;
}

}  // namespace

Result<std::vector<WideTable>> wide_tables(const ledger::Ledger& ledger) {
  const auto facts = results::facts_of(ledger);
  if (!facts) return std::unexpected(facts.error());
  if (!is_small(*facts)) return std::vector<WideTable>{};
  auto definitions = definitions_table(ledger);
  if (!definitions) return std::unexpected(definitions.error());
  std::vector<WideTable> tables{cuttings_table(*facts), *std::move(definitions),
                                entries_table(*facts),  occasions_table(*facts),
                                people_table(*facts),   plots_table(*facts),
                                raters_table(*facts),   ratings_table(*facts),
                                soil_table(*facts),     trials_table(*facts)};
  std::erase_if(tables, [](const WideTable& table) { return table.rows.empty(); });
  return tables;
}

std::string csv_text(const WideTable& table) {
  constexpr std::string_view kLineEnd = "\r\n";
  std::vector<std::string> header;
  header.reserve(table.columns.size());
  for (const files::Column& column : table.columns) header.push_back(column.name);
  std::string text = join_line(header) + std::string(kLineEnd);
  for (std::vector<std::string> row : table.rows) {
    // What a plan says may hold what no line of a table can.
    for (std::string& cell : row) {
      if (!is_cell_text(cell)) cell = cleaned(cell);
    }
    text += join_line(row);
    text += kLineEnd;
  }
  return text;
}

}  // namespace ligule::wide
