// What the screen for sorting a sample shows.
#include <algorithm>

#include "app/flow/sorted_sample.h"
#include "app/flow/turn.h"
#include "app/flow/view_parts.h"

namespace ligule::flow {
namespace {

std::string amount_in(const Cell& cell) {
  if (!cell.claim || cell.open()) return {};
  const Record& record = cell.claim->record;
  return record.entered.empty() ? std::string() : record.entered + "\u00a0" + record.unit;
}

// Of several the one that needs a person most.
Mark worst_of(const std::vector<Cell>& cells) {
  Mark worst = Mark::kKept;
  for (const Cell& cell : cells) {
    const Mark mark = mark_of(cell);
    if (needs_more(mark, worst)) worst = mark;
  }
  return worst;
}

SortPlotRow plot_row(const Model& model, const Book& book, const PlanPlot& plot) {
  const SortedSample sample = sorted_sample(model, book, plot);
  SortPlotRow row;
  row.plot = plot.number;
  row.stated = sample.parts_stated();
  row.begun = sample.begun();
  row.whole = sample.complete();
  row.mark = row.begun ? worst_of(sorted_cells(model, book, plot)) : Mark::kOpen;
  return row;
}

PartRow part_row(const SortedSample& sample, int part, const std::optional<int>& chosen) {
  PartRow row;
  row.part = part;
  row.chosen = chosen == part;
  if (part == 0) {
    row.word = "sort.whole";
    row.fresh = amount_in(sample.whole);
    row.mark = mark_of(sample.whole);
    return row;
  }
  const PartCells& cells = sample.parts.at(static_cast<std::size_t>(part - 1));
  row.word = part_word(part);
  row.none = cells.none();
  row.fresh = amount_in(cells.fresh);
  if (cells.number.claim) row.bag = cells.number.claim->record.entered;
  row.mark = row.none || !cells.number.claim ? mark_of(cells.number)
                                             : worst_of({cells.number, cells.fresh});
  return row;
}

FieldView sort_field(const Model& model, const Sorting& sorting, const PlanPlot& plot, Field field,
                     std::string_view measure, const Cell& cell) {
  FieldView view;
  view.field = field;
  view.text = sorting.keypad.text(field);
  view.focused = sorting.keypad.active() == field;
  view.mark = mark_of(cell);
  const KnownTrial& trial = trial_of(model, sorting.book);
  const Scale* const scale = scale_of(model, trial, plot, measure);
  if (scale != nullptr) view.unit = unit_for(model.setup, measure, *scale, cell);
  return view;
}

void add_table(const Model& model, const Sorting& sorting, const PlanPlot& plot,
               SortingView& view) {
  const SortedSample sample = sorted_sample(model, sorting.book, plot);
  for (int part = 0; part <= static_cast<int>(sample.parts.size()); ++part)
    view.parts.push_back(part_row(sample, part, sorting.part));
  view.open = static_cast<int>(sample.parts.size()) - sample.parts_stated() +
              (sample.whole.claim && !sample.whole.open() ? 0 : 1);
  if (view.open == 0) view.percent = parts_of_whole(model, sorting.book, plot);
  if (!sorting.part) return;
  const auto add = [&](Field field, std::string_view measure, const Cell& cell) {
    view.fields.push_back(sort_field(model, sorting, plot, field, measure, cell));
  };
  if (*sorting.part == 0) {
    add(Field::kSortWhole, measure::kSeparatedFresh, sample.whole);
  } else {
    const PartCells& part = sample.parts.at(static_cast<std::size_t>(*sorting.part - 1));
    add(Field::kSortBag, measure::kPartBag, part.number);
    add(Field::kSortFresh, measure::kSampleFresh, part.fresh);
    view.can_say_none = view.can_enter && !part.none();
  }
  view.can_keep = view.can_enter && std::ranges::none_of(view.fields, [](const FieldView& field) {
                    return field.text.empty();
                  });
}

}  // namespace

SortingView sorting_view(const Model& model, const Sorting& sorting) {
  SortingView view;
  const Book& book = sorting.book;
  view.head = head_view(model);
  view.trial_code = trial_of(model, book).plan.codes.trial;
  view.year = book.occasion.year;
  view.cutting = book.occasion.cutting;
  view.can_enter = can_enter(model);
  view.can_take_back = !book.done.empty() && view.can_enter;
  view.plot = sorting.plot;
  if (const auto place = place_of(book, sorting.plot)) {
    add_table(model, sorting, book.plots.at(*place), view);
    return view;
  }
  FieldView number;
  number.field = Field::kSortPlot;
  number.text = sorting.keypad.text(Field::kSortPlot);
  number.focused = true;
  view.fields.push_back(number);
  for (const PlanPlot& plot : book.plots) {
    SortPlotRow row = plot_row(model, book, plot);
    if (row.whole)
      ++view.whole;
    else if (row.begun)
      ++view.begun;
    if (plot.number.starts_with(number.text)) view.plots.push_back(std::move(row));
  }
  return view;
}

}  // namespace ligule::flow
