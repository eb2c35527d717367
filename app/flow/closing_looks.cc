#include "app/flow/closing_looks.h"

#include <algorithm>
#include <functional>
#include <map>
#include <utility>

#include "app/flow/book.h"
#include "app/flow/gauge.h"
#include "app/flow/progress.h"
#include "storage/checks/lane_shift.h"
#include "storage/checks/pace.h"
#include "storage/trial/first_said.h"

namespace ligule::flow {
namespace {

// When a value was given there first: putting it right later is no visit.
Stamp given_at(const KnownClaim& claim) {
  return claim.given.value_or(claim.record.at);
}

// Measures of which a run of one value says something: not words, and not dates that were reached.
bool tells(const Scale& scale) {
  return scale.kind == ScaleKind::kPercent || scale.kind == ScaleKind::kScore ||
         scale.kind == ScaleKind::kStages || scale.kind == ScaleKind::kLength;
}

void look_for_runs(const Model& model, const Book& book, std::vector<ClosingLook>& looks) {
  const KnownTrial& trial = trial_of(model, book);
  for (const std::string& measure : book.occasion.measures) {
    std::vector<std::pair<UtcInstant, checks::GivenValue>> values;
    for (const PlanPlot& plot : book.plots) {
      const Scale* const scale = scale_of(model, trial, plot, measure);
      const Cell cell = cell_of(model, book, plot, measure);
      if (scale == nullptr || !tells(*scale) || !cell.claim || cell.open()) continue;
      values.push_back({given_at(*cell.claim).utc, {plot.number, cell.claim->record.entered}});
    }
    std::ranges::stable_sort(values, {}, [](const auto& value) { return value.first; });
    std::vector<checks::GivenValue> in_order;
    in_order.reserve(values.size());
    for (auto& [at, value] : values) in_order.push_back(std::move(value));
    if (const auto run = checks::odd_run(in_order))
      looks.push_back(
          {"odd_run", measure, {run->entered, std::to_string(run->plots), run->from, run->to}});
  }
}

std::optional<double> number_of(const Cell& cell) {
  if (!cell.claim || cell.open()) return std::nullopt;
  return cell.claim->record.value;
}

// A run of plots whose values fit better one place on: a stake was passed over, or counted twice.
void tell_shift(const Model& model, const Book& book, std::string_view measure,
                const std::function<std::optional<double>(const PlanPlot&)>& value,
                std::vector<ClosingLook>& looks) {
  std::vector<checks::LanePlot> path;
  for (const PlanPlot& plot : book.plots) {
    const PlanEntry* const entry = entry_of(trial_of(model, book), plot);
    path.push_back({plot.block, entry == nullptr ? plot.number : entry->code, value(plot)});
  }
  const auto shift = checks::lane_shift(path);
  if (!shift) return;
  const bool early = shift->entered == checks::Entered::kTooEarly;
  looks.push_back({early ? "shift_on" : "shift_back",
                   std::string(measure),
                   {book.plots.at(shift->first).number, book.plots.at(shift->last).number}});
}

void look_for_shifts(const Model& model, const Book& book, std::vector<ClosingLook>& looks) {
  const KnownTrial& trial = trial_of(model, book);
  for (const std::string& measure : book.occasion.measures) {
    // Stages are told on another scale where the species is another.
    const bool one_scale = std::ranges::all_of(book.plots, [&](const PlanPlot& plot) {
      const Scale* const scale = scale_of(model, trial, plot, measure);
      return scale != nullptr && tells(*scale) && scale->kind != ScaleKind::kStages;
    });
    if (!one_scale) continue;
    tell_shift(
        model, book, measure,
        [&](const PlanPlot& plot) { return number_of(cell_of(model, book, plot, measure)); },
        looks);
  }
}

void look_at_pace(const Model& model, const Book& book, std::vector<ClosingLook>& looks) {
  const Plan& plan = trial_of(model, book).plan;
  const auto length = plan.plot_length.metres();
  const auto width = plan.plot_width.metres();
  if (!length || !width) return;
  std::vector<checks::Visited> visits;
  for (const PlanPlot& plot : book.plots) {
    std::optional<UtcInstant> first;
    for (const std::string& measure : book.occasion.measures) {
      const Scale* const scale = scale_of(model, trial_of(model, book), plot, measure);
      const Cell cell = cell_of(model, book, plot, measure);
      // A date is tapped from in front of the block.
      if (scale == nullptr || scale->kind == ScaleKind::kReached || !cell.claim || cell.open())
        continue;
      const UtcInstant at = given_at(*cell.claim).utc;
      if (!first || at < *first) first = at;
    }
    if (first)
      visits.push_back(
          {plot.number, plot.column * width->value(), plot.row * length->value(), *first});
  }
  std::ranges::stable_sort(visits, {}, &checks::Visited::at);
  // Two plots to either side are seen from where one stands, and the one across the alley.
  const auto fast = checks::too_fast(visits, std::max(2 * width->value(), length->value()) * 1.01);
  if (fast.size() >= checks::kFewestFast)
    looks.push_back({"too_fast", "", {std::to_string(fast.size()), fast.front()}});
}

}  // namespace

std::vector<ClosingLook> closing_looks(const Model& model, const Book& book) {
  std::vector<ClosingLook> looks;
  look_for_runs(model, book, looks);
  look_for_shifts(model, book, looks);
  look_at_pace(model, book, looks);
  return looks;
}

std::vector<ClosingLook> closing_looks(const Model& model, const Harvest& harvest) {
  std::vector<ClosingLook> looks;
  tell_shift(
      model, harvest.book, measure::kGrossWeight,
      [&](const PlanPlot& plot) -> std::optional<double> {
        const auto weighed = weighed_plot(model, harvest.book, plot);
        return weighed ? std::optional(weighed->net) : std::nullopt;
      },
      looks);
  return looks;
}

}  // namespace ligule::flow
