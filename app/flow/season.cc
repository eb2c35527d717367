#include "app/flow/season.h"

#include <algorithm>

#include "app/flow/progress.h"
#include "app/flow/weather.h"
#include "storage/checks/stubble.h"
#include "storage/trial/said.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

std::optional<double> of_this_season(const Turn& turn, const KnownTrial& trial,
                                     const PlanPlot& plot,
                                     const std::optional<RatedBefore::Value>& before) {
  const bool says =
      before && still_says(before->on, turn.at.local_date, trial.as_sown, trial.plan.plot(plot));
  return says ? std::optional(before->value) : std::nullopt;
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
std::optional<Kilograms> cut_before(const Book& book, const PlanPlot& plot) {
  std::optional<Kilograms> sum;
  for (const std::map<std::string, double>& cutting : book.past.earlier) {
    const auto at = cutting.find(plot.number);
    if (at != cutting.end()) sum = sum.value_or(Kilograms{}) + Kilograms(at->second);
  }
  return sum;
}

// What the plot's bags besides this one hold; empty: there are none.
std::optional<Kilograms> in_other_bags(const Model& model, const Book& book, const Uuid& plot,
                                       int bag) {
  std::optional<Kilograms> sum;
  const auto mass = [&](std::string_view measure, int part) {
    const Cell cell = cell_at(model, book, {plot, std::string(measure), part});
    return cell.claim ? said::mass_of(cell.claim->record) : std::nullopt;
  };
  for (const int part : parts_of(model, book, plot, measure::kGrossWeight)) {
    const auto gross = part == bag ? std::nullopt : mass(measure::kGrossWeight, part);
    if (gross)
      sum = sum.value_or(Kilograms{}) + *gross -
            mass(measure::kTareWeight, part).value_or(Kilograms{});
  }
  return sum;
}

// When what stands there was sown; empty: with the trial.
std::optional<CalendarDate> sown_later(const KnownTrial& trial, const PlanPlot& plot) {
  const auto sown = std::ranges::find(trial.as_sown, plot_id_in(trial, plot), &AsSown::plot);
  if (sown == trial.as_sown.end() || sown->status != AsSownStatus::kReseeded) return std::nullopt;
  return sown->since;
}

// The lowest stubble that somebody stood by today, inches.
std::optional<double> stubble_answered(const Turn& turn, const Book& book) {
  std::optional<double> lowest;
  for (const PlanPlot& plot : book.plots) {
    std::optional<KnownClaim> under_way;
    const KnownClaim* const claim = claim_at(
        turn.model, book,
        {plot_subject(turn.model, book, plot), std::string(checks::kStubbleHeight), 1}, under_way);
    if (claim == nullptr || claim->record.at.local_date != turn.at.local_date) continue;
    const Record& record = claim->record;
    const auto inches = checks::inches_stated(record);
    const bool asked = std::ranges::find(record.answers, checks::kStubbleLow, &Answer::rule) !=
                       record.answers.end();
    if (asked && inches) lowest = std::min(lowest.value_or(*inches), *inches);
  }
  return lowest;
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

checks::History history_of(const Turn& turn, const Book& book, const PlanPlot& plot,
                           std::string_view measure) {
  const Model& model = turn.model;
  const KnownTrial& trial = trial_of(model, book);
  checks::History history = history_of_day(turn, book.id);
  add_weather(model, book, plot, measure, history);
  history.usual = limit_of(model, trial, plot, measure);
  if (measure == checks::kStubbleHeight) {
    history.least_stubble = checks::least_inches(history.usual);
    history.stubble_answered = stubble_answered(turn, book);
  }
  history.sown = sown_later(trial, plot);
  const auto at = book.past.before.find(plot.number);
  if (at == book.past.before.end()) return history;
  const RatedBefore& before = at->second;
  if (!spreads(model, trial, plot))
    history.stand_before = of_this_season(turn, trial, plot, before.stand);
  // A cutting begins another growth.
  if (before.stage && (!book.past.last_cut || *book.past.last_cut < before.stage->on))
    history.stage_before = of_this_season(turn, trial, plot, before.stage);
  return history;
}

void add_season(const Turn& turn, const Book& book, const PlanPlot& plot, int bag,
                checks::History& history) {
  const Model& model = turn.model;
  const KnownTrial& trial = trial_of(model, book);
  const auto at = book.past.before.find(plot.number);
  if (at != book.past.before.end())
    history.stand = of_this_season(turn, trial, plot, at->second.stand);
  history.cutting_yield = limit_of(model, trial, plot, kCuttingYield);
  history.season_yield = limit_of(model, trial, plot, kSeasonYield);
  history.season_net = cut_before(book, plot);
  history.other_bags = in_other_bags(model, book, plot_subject(model, book, plot), bag);
  const auto length = side(model, book, plot, measure::kSwathLength, trial.plan.swath_length);
  const auto width = side(model, book, plot, measure::kSwathWidth, trial.plan.swath_width);
  if (length && width) history.strip = area(*length, *width);
}

}  // namespace ligule::flow
