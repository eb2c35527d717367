#include "app/flow/gauge.h"

#include <algorithm>
#include <vector>

#include "app/flow/bags.h"
#include "app/flow/progress.h"
#include "storage/trial/number.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {

std::optional<checks::WeighedPlot> weighed_plot(const Model& model, const Harvest& harvest,
                                                const PlanPlot& plot) {
  const PlanEntry* const entry = entry_of(trial_of(model, harvest.book), plot);
  const auto forage = forage_of(model, harvest.book, plot);
  if (entry == nullptr || !forage) return std::nullopt;
  checks::WeighedPlot made{plot.block, entry->code, forage->value()};
  if (const auto at = harvest.stands.find(plot.number); at != harvest.stands.end())
    made.stand = at->second;
  return made;
}

std::optional<GaugeView> gauge_view(const Model& model, const Harvest& harvest) {
  const Book& book = harvest.book;
  if (book.plots.empty()) return std::nullopt;
  const PlanPlot& present = book.plots.at(book.present);
  const Cell cell = cell_of(model, book, present, measure::kGrossWeight);
  const auto own = weighed_plot(model, harvest, present);
  if (!own || !cell.claim) return std::nullopt;
  std::vector<checks::WeighedPlot> others;
  for (const PlanPlot& plot : book.plots) {
    if (plot.number == present.number) continue;
    if (auto other = weighed_plot(model, harvest, plot)) others.push_back(*std::move(other));
  }
  GaugeView view;
  const auto expected = checks::expected_weight(others, *own);
  if (!expected) return view;
  view.unit = cell.claim->record.unit;
  const auto one = mass_in(1, view.unit);
  if (!one || expected->highest <= 0) return view;
  const double kilograms = one->value();
  view.any = true;
  view.lowest = format_fixed(expected->lowest / kilograms, 1);
  view.highest = format_fixed(expected->highest / kilograms, 1);
  view.inside = own->net >= expected->lowest && own->net <= expected->highest;
  // The gauge reaches half the range beyond its ends.
  const double range = expected->highest - expected->lowest;
  const double from = expected->lowest - range / 2;
  view.place = std::clamp((own->net - from) / (2 * range), 0.0, 1.0);
  return view;
}

}  // namespace ligule::flow
