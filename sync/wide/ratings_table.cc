#include "sync/wide/ratings_table.h"

#include <algorithm>
#include <array>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "storage/trial/number.h"
#include "sync/results/ratings.h"
#include "sync/results/settled.h"
#include "sync/wide/cells.h"
#include "sync/wide/visit.h"

namespace ligule::wide {
namespace {

using enum files::CellType;
using files::Column;
using files::kMayBeEmpty;
using files::kRequired;
using results::Settled;
using results::Standing;

// What a plot has of one measure, or of one share of it.
struct MeasureCells {
  std::string number;
  std::string words;
  std::string state;
  std::string scale;
};
using Measures = std::map<std::string, MeasureCells>;  // by column

std::string_view state_of(Standing standing) {
  switch (standing) {
    case Standing::kValue:
      return "value";
    case Standing::kZero:
      return "zero";
    case Standing::kMissing:
      return "missing";
    case Standing::kLater:
      return "later";
    case Standing::kOnHold:
      return "on hold";
    case Standing::kConflict:
      break;
  }
  return "conflict";
}

// Words are a value without being a number.
Standing standing_of(const Settled& part) {
  const bool words = part.standing == Standing::kMissing && !part.entered.empty();
  return words ? Standing::kValue : part.standing;
}

// Of several parts (heights, visits) the state that keeps most from the reader.
std::string state_of(const std::vector<Settled>& parts) {
  constexpr std::array kWorst{Standing::kConflict, Standing::kOnHold, Standing::kLater,
                              Standing::kMissing,  Standing::kZero,   Standing::kValue};
  for (const Standing standing : kWorst) {
    if (std::ranges::find(parts, standing, standing_of) != parts.end())
      return std::string(state_of(standing));
  }
  return {};
}

std::string words_of(const std::vector<Settled>& parts) {
  std::string text;
  for (const Settled& part : parts) {
    if (part.standing == Standing::kConflict || part.entered.empty()) continue;
    text += (text.empty() ? "" : "; ") + part.entered;
  }
  return text;
}

// A column of one measure: of numbers where any trial has numbers of it.
struct MeasureColumn {
  bool numbers = false;
  bool is_share = false;  // one of several of a measure, whose state stands beside the first
};

// All trials of one ledger; their measures share the columns.
class RatingsTable {
 public:
  void add(const results::TrialFacts& trial, const std::string& test) {
    numbers_.clear();
    for (const results::MeasureValues& measure : results::ratings_of(trial, test).measures) {
      for (const results::PlotValue& value : measure.values) {
        if (value.value)
          numbers_[{measure.measure, value.cutting, value.plot}] = {*value.value, value.entry};
      }
      columns_[measure.measure].numbers = true;
    }
    const results::SettledValues settled(trial.claims);
    std::map<OccasionId, std::set<std::string>> rated;
    for (const auto& [measure, occasion] : settled.acts())
      if (!results::is_of_yields(measure)) rated[occasion].insert(measure);
    for (const PlanOccasion& occasion : trial.plan.occasions) {
      const auto at = rated.find(trial.plan.occasion(occasion));
      if (at == rated.end()) continue;
      for (const PlanPlot& plot : trial.plan.along_path())
        add_row({trial, test, settled, occasion, plot}, at->second);
    }
  }

  WideTable table() && {
    WideTable table = empty_table();
    for (const auto& [name, of] : columns_) add_columns(name, of, table);
    for (Row& row : rows_) {
      for (const auto& [name, of] : columns_) {
        const MeasureCells& cells = row.measures[name];
        row.cells.push_back(of.numbers ? cells.number : cells.words);
        if (of.is_share) continue;
        row.cells.push_back(cells.state);
        row.cells.push_back(cells.scale);
      }
      table.add(std::move(row.cells));
    }
    return table;
  }

 private:
  // As the results have it, of what the plot held when this measure was taken.
  struct Number {
    double value = 0.0;
    std::string entry;
  };
  struct Row {
    std::vector<std::string> cells;
    Measures measures;
  };
  // A plot at an occasion of its trial.
  struct Place {
    const results::TrialFacts& trial;
    const std::string& test;
    const results::SettledValues& settled;
    const PlanOccasion& occasion;
    const PlanPlot& plot;
  };

  static WideTable empty_table() {
    WideTable table{
        .name = "ratings",
        .description =
            "One row a plot and rating, as far as these records tell; of several readings the "
            "mean. A measure of a plot that is out of results, on hold or in conflict has no "
            "number.",
        .columns = visit_columns({"rating", kText, kMayBeEmpty, "code of the rating or cutting"}),
        .primary_key = visit_key(),
        .references = visit_references()};
    table.columns.push_back(
        {"rated_on", kDate, kRequired, "last day something was recorded of it"});
    table.columns.push_back(
        {"out_of_results_because", kText, kMayBeEmpty, "why the plot is out of results"});
    return table;
  }

  static void add_columns(const std::string& name, const MeasureColumn& of, WideTable& table) {
    std::string what = of.numbers
                           ? "number in the first unit of the scale that " + name + "_scale names"
                           : "as entered, several parted by semicolons";
    table.columns.push_back({free_name(name, table),
                             of.numbers ? kNumber : kText,
                             kMayBeEmpty,
                             std::move(what),
                             {},
                             "Variable ID",
                             "observationVariableDbId"});
    if (of.is_share) return;
    table.columns.push_back({free_name(name + "_state", table),
                             kWord,
                             kMayBeEmpty,
                             "empty: nothing recorded",
                             {"value", "zero", "missing", "later", "on hold", "conflict"}});
    table.columns.push_back({free_name(name + "_scale", table), kText, kMayBeEmpty,
                             "code of the scale it was given on; empty: not told in this file"});
  }

  // A program names its own scores as it likes, also as another column is named.
  static std::string free_name(std::string name, const WideTable& table) {
    while (std::ranges::find(table.columns, name, &Column::name) != table.columns.end())
      name += "_";
    return name;
  }

  void add_row(const Place& at, const std::set<std::string>& measures) {
    const Uuid subject = at.trial.plan.plot(at.plot).uuid;
    const OccasionId occasion = at.trial.plan.occasion(at.occasion);
    std::optional<CalendarDate> day;
    std::map<std::string, std::vector<Settled>> parts_of;
    for (const std::string& measure : measures) {
      auto parts = at.settled.parts(subject, measure, occasion);
      if (parts.empty()) continue;
      for (const Settled& part : parts) day = std::max(day.value_or(part.date), part.date);
      parts_of.emplace(measure, std::move(parts));
    }
    if (!day) return;
    const results::Held held = results::held_on(at.trial, at.plot, *day);
    const std::string entry = held.entry == nullptr ? std::string() : held.entry->label();
    Measures cells;
    for (const auto& [measure, parts] : parts_of) add_measure(at, entry, measure, parts, cells);
    Row row{visit_cells({subject, occasion, at.test, at.trial.plan.site_name, at.occasion.year,
                         at.occasion.code, at.plot.number, at.plot.block, entry}),
            std::move(cells)};
    row.cells.push_back(format_date(*day));
    row.cells.push_back(held.why);
    rows_.push_back(std::move(row));
  }

  void add_measure(const Place& at, const std::string& entry, const std::string& measure,
                   const std::vector<Settled>& parts, Measures& into) {
    columns_.try_emplace(measure);
    const auto scale = at.trial.scales.find(parts.front().definition);
    const bool known = scale != at.trial.scales.end();
    into[measure] = {number(measure, entry, at), words_of(parts), state_of(parts),
                     known ? scale->second.code : std::string()};
    if (!known || scale->second.kind != ScaleKind::kShares) return;
    for (const ScaleStep& step : scale->second.steps) {
      const std::string share = measure + "_" + step.code;
      const auto column = columns_.find(share);
      if (column == columns_.end()) continue;
      column->second.is_share = true;
      into[share].number = number(share, entry, at);
    }
  }

  // None where the plot held something else that day than the row says.
  [[nodiscard]] std::string number(const std::string& column, const std::string& entry,
                                   const Place& at) const {
    const auto found = numbers_.find({column, at.occasion.code, at.plot.number});
    if (found == numbers_.end() || found->second.entry != entry) return {};
    return format_number(found->second.value);
  }

  std::map<std::string, MeasureColumn> columns_;
  std::vector<Row> rows_;
  // Of the trial at hand, by column, code of the occasion and number of the plot.
  std::map<std::tuple<std::string, std::string, std::string>, Number> numbers_;
};

}  // namespace

WideTable ratings_table(const results::LedgerFacts& facts) {
  RatingsTable table;
  const auto names = results::test_names(facts.trials);
  for (std::size_t n = 0; n < facts.trials.size(); ++n) table.add(facts.trials[n], names[n]);
  return std::move(table).table();
}

}  // namespace ligule::wide
