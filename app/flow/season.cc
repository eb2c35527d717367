#include "app/flow/season.h"

#include <algorithm>

#include "app/flow/progress.h"
#include "app/flow/weather.h"
#include "storage/checks/stubble.h"
#include "storage/trial/said.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

// A value that still says something of what stands there: of this year, and nothing was sown or
// found out about the plot since.
std::optional<double> of_this_season(const Turn& turn, const KnownTrial& trial,
                                     const PlanPlot& plot,
                                     const std::optional<RatedBefore::Value>& before) {
  if (!before || before->on.year() != turn.at.local_date.year()) return std::nullopt;
  const auto sown = std::ranges::find(trial.as_sown, trial.plan.plot(plot), &AsSown::plot);
  if (sown != trial.as_sown.end() && sown->status != AsSownStatus::kAsPlanned &&
      sown->since >= before->on)
    return std::nullopt;
  return before->value;
}

bool spreads(const Model& model, const KnownTrial& trial, const PlanPlot& plot) {
  const PlanEntry* const entry = entry_of(trial, plot);
  const Species* const species =
      entry == nullptr ? nullptr : model.setup.definitions.find_species(entry->species);
  return species != nullptr && species->spreads;
}

// One side of the strip: as it was measured at this plot, else the plan's.
std::optional<Metres> side(const Model& model, const Book& book, const PlanPlot& plot,
                           std::string_view measure, const StatedLength& planned) {
  const Cell cell = cell_of(model, book, plot, measure);
  if (cell.claim && !cell.open() && cell.claim->record.value) {
    const auto measured = length_in(*cell.claim->record.value, cell.claim->record.unit);
    if (measured) return *measured;
  }
  const auto length = planned.metres();
  return length ? std::optional(*length) : std::nullopt;
}

// What the plot gave in the year's earlier cuttings, as far as that is known.
std::optional<Kilograms> cut_before(const Harvest& harvest, const PlanPlot& plot) {
  std::optional<Kilograms> sum;
  for (const std::map<std::string, double>& cutting : harvest.earlier) {
    const auto at = cutting.find(plot.number);
    if (at != cutting.end()) sum = sum.value_or(Kilograms{}) + Kilograms(at->second);
  }
  return sum;
}

}  // namespace

checks::History history_of_day(const Turn& turn, OccasionId occasion) {
  checks::History history;
  history.today = turn.at.local_date;
  history.now = turn.at;
  history.kept_last = turn.model.today.newest;
  history.answered = day_answers(turn.model, occasion);
  return history;
}

checks::History history_of(const Turn& turn, const Rating& rating, const PlanPlot& plot,
                           std::string_view measure) {
  const Model& model = turn.model;
  const KnownTrial& trial = trial_of(model, rating.book);
  checks::History history = history_of_day(turn, rating.book.id);
  add_weather(model, rating.book, plot, measure, history);
  history.usual = limit_of(model, trial, plot, measure);
  history.least_stubble =
      checks::least_inches(limit_of(model, trial, plot, checks::kStubbleHeight));
  const auto at = rating.before.find(plot.number);
  if (at == rating.before.end()) return history;
  const RatedBefore& before = at->second;
  if (!spreads(model, trial, plot))
    history.stand_before = of_this_season(turn, trial, plot, before.stand);
  // A cutting begins another growth.
  if (before.stage && (!rating.last_cut || *rating.last_cut < before.stage->on))
    history.stage_before = of_this_season(turn, trial, plot, before.stage);
  return history;
}

void add_season(const Turn& turn, const Harvest& harvest, const PlanPlot& plot,
                checks::History& history) {
  const Model& model = turn.model;
  const Book& book = harvest.book;
  const KnownTrial& trial = trial_of(model, book);
  const auto at = harvest.before.find(plot.number);
  if (at != harvest.before.end())
    history.stand = of_this_season(turn, trial, plot, at->second.stand);
  // Of a cutting that was begun on another day it was asked then.
  const bool begun = std::ranges::any_of(
      harvest.runs, [&](const Record& run) { return run.at.local_date < turn.at.local_date; });
  if (!begun) history.last_cut = harvest.last_cut;
  history.cutting_yield = limit_of(model, trial, plot, kCuttingYield);
  history.season_yield = limit_of(model, trial, plot, kSeasonYield);
  history.season_net = cut_before(harvest, plot);
  const auto length = side(model, book, plot, measure::kSwathLength, trial.plan.swath_length);
  const auto width = side(model, book, plot, measure::kSwathWidth, trial.plan.swath_width);
  if (length && width) history.strip = area(*length, *width);
}

}  // namespace ligule::flow
