#include "app/flow/gauge.h"

#include <algorithm>
#include <variant>
#include <vector>

#include "app/flow/bags.h"
#include "app/flow/progress.h"
#include "storage/checks/season_weight.h"
#include "storage/trial/number.h"
#include "storage/trial/said.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {

namespace {

// Without its weight; empty: nobody knows what it holds.
std::optional<checks::WeighedPlot> plot_to_weigh(const Model& model, const Book& book,
                                                 const PlanPlot& plot) {
  const PlanEntry* const entry = entry_of(trial_of(model, book), plot);
  if (entry == nullptr) return std::nullopt;
  checks::WeighedPlot made{plot.block, entry->code, 0};
  if (const auto at = book.past.before.find(plot.number); at != book.past.before.end()) {
    const std::optional<RatedBefore::Value>& stand = at->second.stand;
    if (stand) made.stand = stand->value;
  }
  return made;
}

}  // namespace

std::optional<checks::WeighedPlot> weighed_plot(const Model& model, const Book& book,
                                                const PlanPlot& plot) {
  auto made = plot_to_weigh(model, book, plot);
  const auto forage = forage_of(model, book, plot);
  if (!made || !forage) return std::nullopt;
  made->net = forage->value();
  return made;
}

std::optional<checks::ExpectedWeight> expected_of(const Model& model, const Book& book,
                                                  const PlanPlot& plot) {
  const auto own = plot_to_weigh(model, book, plot);
  const auto place = place_of(book, plot.number);
  if (!own || !place) return std::nullopt;
  checks::WeighedPath so_far;
  for (const PlanPlot& each : book.plots)
    so_far.push_back(each.number == plot.number ? std::nullopt : weighed_plot(model, book, each));
  std::vector<checks::WeighedPath> earlier;
  for (const auto& cutting : book.past.earlier) {
    checks::WeighedPath& path = earlier.emplace_back();
    for (const PlanPlot& each : book.plots) {
      const PlanEntry* const entry = entry_of(trial_of(model, book), each);
      const auto at = cutting.find(each.number);
      std::optional<checks::WeighedPlot>& weighed = path.emplace_back();
      if (entry != nullptr && at != cutting.end())
        weighed = checks::WeighedPlot{each.block, entry->code, at->second};
    }
  }
  return checks::expected_in_season(earlier, so_far, *place, *own);
}

std::optional<GaugeView> gauge_view(const Model& model, const Harvest& harvest,
                                    const PlanPlot& plot) {
  const Book& book = harvest.book;
  const Cell cell = cell_of(model, book, plot, measure::kGrossWeight);
  const auto own = weighed_plot(model, book, plot);
  if (!own || !cell.claim) return std::nullopt;
  GaugeView view;
  const auto expected = expected_of(model, book, plot);
  if (!expected) return view;
  view.unit = cell.claim->record.unit;
  const auto one = mass_in(1, view.unit);
  if (!one || expected->highest <= 0) return view;
  const double kilograms = one->value();
  // What a person reads beside it is the scale's weight, with what the plot hangs in.
  double hangs_in = -own->net;
  for (const Cell& bag : gross_cells(model, book, plot))
    if (bag.claim) hangs_in += said::mass_of(bag.claim->record).value_or(Kilograms(0)).value();
  view.any = true;
  view.lowest = format_fixed((expected->lowest + hangs_in) / kilograms, 1);
  view.highest = format_fixed((expected->highest + hangs_in) / kilograms, 1);
  view.inside = own->net >= expected->lowest && own->net <= expected->highest;
  // The gauge reaches half the range beyond its ends.
  const double range = expected->highest - expected->lowest;
  const double from = expected->lowest - range / 2;
  view.place = std::clamp((own->net - from) / (2 * range), 0.0, 1.0);
  return view;
}

bool shows_last_gauge(const Model& model, const Harvest& harvest) {
  const auto* const weighing = std::get_if<Weighing>(&harvest.step);
  if (weighing == nullptr || !place_of(harvest.book, harvest.gauged)) return false;
  const LoadState state = model.load.state;
  const bool loaded =
      state == LoadState::kMoving || state == LoadState::kStill || state == LoadState::kOverload;
  return !loaded && weighing->keypad.text(Field::kGross).empty() && weighing->bag == 1;
}

}  // namespace ligule::flow
