// What the pads of several numbers and of dates show.
#include <algorithm>
#include <cmath>
#include <set>

#include "app/flow/gather.h"
#include "app/flow/parts.h"
#include "app/flow/view_parts.h"
#include "storage/trial/composite.h"
#include "storage/trial/number.h"

namespace ligule::flow {
namespace {

// What the pad of a measure shows: pieces of an act to come, or the record that stands.
struct Shown {
  std::vector<Piece> pieces;
  const Record* record = nullptr;  // null: nothing stands, or something else is begun
};

GatherView readings_view(const Scale& scale, const Shown& shown, const MeasureView& view) {
  GatherView gather;
  gather.wanted = static_cast<std::size_t>(scale.readings);
  for (const Piece& piece : shown.pieces) gather.readings.push_back(piece.text);
  if (shown.record != nullptr) gather.mean = view.shown;
  gather.can_drop = !shown.pieces.empty();
  return gather;
}

GatherView shares_view(const Rating& rating, const Scale& scale, const Shown& shown) {
  GatherView gather;
  const bool standing = shown.record != nullptr;
  const std::vector<Share> shares =
      standing ? shares_in(scale, shown.record->entered) : shares_of(scale, shown.pieces);
  const std::string active = part_shown(rating, scale, shown.pieces);
  const bool all = std::ranges::all_of(shares, &Share::known);
  for (std::size_t n = 0; n < shares.size(); ++n) {
    const ScaleStep& step = scale.steps[n];
    gather.parts.push_back({step.code, step_word(scale, step.code),
                            shares[n].known ? std::to_string(shares[n].percent) : std::string(),
                            shares[n].rest, active == step.code, step.value});
  }
  gather.step = format_number(scale.step);
  gather.can_keep = all && !standing;
  gather.can_drop = standing || !shown.pieces.empty();
  return gather;
}

GatherView counts_view(const Scale& scale, const Shown& shown) {
  GatherView gather;
  std::vector<double> counts = counts_of(scale, shown.pieces);
  if (shown.record != nullptr) {
    if (const auto numbers = composite_numbers(scale, shown.record->entered)) counts = *numbers;
  }
  double all = 0;
  for (std::size_t n = 0; n < counts.size(); ++n) {
    const ScaleStep& step = scale.steps[n];
    all += counts[n];
    gather.parts.push_back({step.code, step_word(scale, step.code),
                            counts[n] > 0 ? format_number(counts[n]) : std::string(), false, false,
                            step.value});
  }
  gather.counted = static_cast<std::size_t>(all);
  if (all > 0) gather.mean = format_fixed(composite_value(scale, counts), 2);
  gather.can_keep = !shown.pieces.empty();
  gather.can_drop = all > 0;
  return gather;
}

GatherView cells_view(const Scale& scale, const Shown& shown) {
  GatherView gather;
  gather.wanted = static_cast<std::size_t>(scale.readings);
  gather.columns = static_cast<std::size_t>(std::lround(std::sqrt(scale.maximum.value_or(1))));
  if (shown.record != nullptr) {
    if (const auto numbers = composite_numbers(scale, shown.record->entered)) {
      for (const double number : *numbers) gather.readings.push_back(format_number(number));
    }
    gather.mean = format_number(shown.record->value.value_or(0));
    if (const auto factor = scale.plants_per_percent) {
      gather.plants = format_fixed(*factor * shown.record->value.value_or(0), 0);
      gather.factor = format_number(*factor);
    }
    return gather;
  }
  std::string placement(cells_of(scale), '0');
  for (std::size_t n = 0; n + 1 < shown.pieces.size(); ++n)
    gather.readings.push_back(std::to_string(held(shown.pieces[n].text)));
  if (!shown.pieces.empty()) placement = shown.pieces.back().text;
  for (const char sign : placement) gather.cells.push_back(sign == '1');
  gather.counted = static_cast<std::size_t>(held(placement));
  gather.last = gather.readings.size() + 1 >= gather.wanted;
  gather.can_keep = true;
  gather.can_drop = !shown.pieces.empty();
  return gather;
}

VisitsView visits_view(const Model& model, const Rating& rating, const std::string& measure) {
  const Book& book = rating.book;
  VisitsView visits;
  visits.block = block_shown(rating);
  std::set<int> blocks;
  const int today = visit_part(model.now.local_date, book.occasion.year);
  for (const PlanPlot& plot : book.plots) {
    blocks.insert(plot.block);
    if (plot.block != visits.block) continue;
    const Cell cell = cell_of(model, book, plot, measure);
    const Cell said = cell_at(model, book, {plot_subject(model, book, plot), measure, today});
    VisitView visit{plot.number, cell.claim && !cell.open(), said.claim.has_value()};
    if (!visit.reached && !visit.today) ++visits.unsaid;
    visits.plots.push_back(std::move(visit));
  }
  visits.blocks.assign(blocks.begin(), blocks.end());
  return visits;
}

std::size_t reached_plots(const Model& model, const Book& book, const std::string& measure) {
  return static_cast<std::size_t>(std::ranges::count_if(book.plots, [&](const PlanPlot& plot) {
    const Cell cell = cell_of(model, book, plot, measure);
    return cell.claim && !cell.open();
  }));
}

// Tiles for the share that is spoken of: what does not fit beside the others is closed.
void limit_choices(const Rating& rating, const Scale& scale, const Shown& shown,
                   MeasureView& view) {
  const std::string part = part_shown(rating, scale, shown.pieces);
  const int most = most_of(scale, shown.pieces, part);
  for (ChoiceView& choice : view.choices) choice.enabled = choice.value <= most;
}

}  // namespace

void add_pad(const Model& model, const Rating& rating, const PlanPlot& plot, const Scale& scale,
             MeasureView& view) {
  const Cell cell = cell_of(model, rating.book, plot, view.measure);
  Shown shown{begun_of(rating, plot.number, view.measure), nullptr};
  if (shown.pieces.empty() && cell.claim && !cell.open()) shown.record = &cell.claim->record;
  switch (scale.kind) {
    case ScaleKind::kLength:
      if (scale.readings > 1) view.gather = readings_view(scale, shown, view);
      return;
    case ScaleKind::kShares:
      view.gather = shares_view(rating, scale, shown);
      return limit_choices(rating, scale, shown, view);
    case ScaleKind::kCounts:
      view.gather = counts_view(scale, shown);
      return;
    case ScaleKind::kCells:
      view.gather = cells_view(scale, shown);
      return;
    case ScaleKind::kReached:
      view.visits = visits_view(model, rating, view.measure);
      view.shown = std::to_string(reached_plots(model, rating.book, view.measure)) + "/" +
                   std::to_string(rating.book.plots.size());
      return;
    default:
      return;
  }
}

}  // namespace ligule::flow
