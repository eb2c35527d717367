// The Slide screen: the path before and after.
#include <algorithm>

#include "app/flow/parts.h"
#include "app/flow/review.h"
#include "app/flow/slide.h"
#include "app/flow/sorted_sample.h"
#include "app/flow/view_parts.h"
#include "storage/trial/reached.h"

namespace ligule::flow {
namespace {

struct Path {
  const Model& model;
  const Book& book;
  std::vector<std::string> order;  // of measures: as the occasion asks
};

SlideCell cell_shown(const Path& path, const PlanPlot& plot, const HeldKey& key,
                     const KnownClaim& claim) {
  const Record& record = claim.record;
  const Scale* const scale =
      scale_of(path.model, trial_of(path.model, path.book), plot, key.measure);
  SlideCell cell{key.measure, short_text(scale, record), mark_of({claim, Durability::kKept})};
  const int part = key.measure == measure::kPartBag ? key.part : key.bag;
  if (part > 0) cell.part = part_word(part);
  if (scale == nullptr || scale->kind != ScaleKind::kReached || cell.shown.empty()) return cell;
  const int year = path.book.occasion.year;
  cell.shown = short_date(day_of_year(visit_date(key.part, year), year), year);
  if (says_not_yet(record)) {
    cell.mark = Mark::kKept;
    cell.word = step_word(*scale, record.entered);
  }
  return cell;
}

// In the order in which the occasion asks, the bag's values behind their bag, notes last.
std::vector<SlideCell> cells_of(const Path& path, const PlanPlot& plot, const Holding& holding) {
  std::vector<SlideCell> cells;
  const auto add = [&](const HeldKey& key, const KnownClaim& claim) {
    cells.push_back(cell_shown(path, plot, key, claim));
  };
  const std::vector<std::string>& order = path.order;
  for (const std::string& measure : order) {
    for (const auto& [key, claim] : holding) {
      if (key.measure == measure) add(key, claim);
    }
  }
  for (const auto& [key, claim] : holding) {
    if (std::ranges::find(order, key.measure) == order.end()) add(key, claim);
  }
  return cells;
}

Words problem_words(const SlideProblem& problem) {
  switch (problem.why) {
    case SlideRefusal::kNothing:
      return {"slide.nothing"};
    case SlideRefusal::kConflict:
      return {"slide.conflict", {problem.plot}};
    case SlideRefusal::kComposite:
      return {"slide.composite", {problem.plot}};
    case SlideRefusal::kNotMeasured:
      break;
  }
  return {"slide.not_measured", {problem.plot}};
}

}  // namespace

SlideView slide_view(const Model& model, const Review& review, const Sliding& sliding) {
  SlideView view;
  const Book& book = review.book;
  const SlideRun& run = sliding.run;
  view.from = run.from;
  view.to = run.to;
  view.by = run.by;
  view.choosing_to = sliding.choosing_to;
  const SlidePlan plan = plan_slide(model, book, run);
  const Path path{model, book, measures_reviewed(model, book)};
  const auto first = place_of(book, run.from).value_or(0);
  const auto last = place_of(book, run.to).value_or(0);
  view.first_in_run = first;
  for (std::size_t place = 0; place < book.plots.size(); ++place) {
    const PlanPlot& plot = book.plots[place];
    SlideRow row;
    row.plot = plot.number;
    row.turn = place > 0 && !in_one_lane(book.plots[place - 1], plot, book.along);
    row.in_run = place >= first && place <= last;
    row.now = cells_of(path, plot, holding_of(model, book, plot));
    const auto after = std::ranges::find(plan.after, plot.number, &PlotHolding::plot);
    row.changed = after != plan.after.end();
    row.then = row.changed ? cells_of(path, plot, after->held) : row.now;
    if (row.in_run && run.by != 0 && !row.now.empty()) {
      const auto to = static_cast<std::ptrdiff_t>(place) + run.by;
      if (to >= 0 && to < static_cast<std::ptrdiff_t>(book.plots.size()))
        row.goes_to = static_cast<std::size_t>(to);
      else
        row.lost = true;
    }
    view.rows.push_back(std::move(row));
  }
  for (const SlideLoss& loss : plan.lost) {
    const auto place = place_of(book, loss.plot);
    if (!place) continue;
    const auto at = std::ranges::find(view.lost, loss.plot, &SlideLost::plot);
    const SlideCell cell = cell_shown(path, book.plots[*place], loss.what, loss.claim);
    if (at == view.lost.end())
      view.lost.push_back({loss.plot, {cell}});
    else
      at->cells.push_back(cell);
  }
  // As on the card.
  for (SlideLost& lost : view.lost)
    std::ranges::stable_sort(lost.cells, {}, [&](const SlideCell& cell) {
      return std::ranges::find(path.order, cell.measure) - path.order.begin();
    });
  if (plan.problem) {
    view.problem = problem_words(*plan.problem);
    view.problem_measure = plan.problem->measure;
  }
  view.moved = plan.moved;
  view.can_do = run.by != 0 && !plan.problem && can_enter(model);
  view.can_take_back = !book.done.empty() && can_enter(model);
  return view;
}

}  // namespace ligule::flow
