#include "sync/results/crossed_plots.h"

#include <cassert>

namespace ligule::results {
namespace {

template <class LevelOf>
statistics::Term term_of(const TestTable& table, const Selected& selected,
                         const LevelOf& level_of) {
  statistics::Term term;
  for (const std::size_t plot : selected.plots) term.levels.push_back(level_of(table.plots[plot]));
  return term;
}

}  // namespace

statistics::CrossedData crossed_data(const TestTable& table, const Selected& selected,
                                     Design design) {
  statistics::CrossedData data;
  data.treatments = table.entries.size();
  data.value = selected.values;
  for (const std::size_t plot : selected.plots) data.treatment.push_back(table.plots[plot].entry);
  switch (design) {
    case Design::kRandomisedBlocks:
      data.terms.push_back(
          term_of(table, selected, [](const TablePlot& plot) { return plot.rep; }));
      break;
    case Design::kLatinSquare:
      data.terms = {rows_term(table, selected), columns_term(table, selected)};
      break;
    case Design::kCompletelyRandomised:
      break;
  }
  return data;
}

statistics::Term rows_term(const TestTable& table, const Selected& selected) {
  assert(selected.all_placed);
  return term_of(table, selected, [](const TablePlot& plot) {
    return static_cast<std::size_t>(plot.place.value_or(PlotPlace{}).row);
  });
}

statistics::Term columns_term(const TestTable& table, const Selected& selected) {
  assert(selected.all_placed);
  return term_of(table, selected, [](const TablePlot& plot) {
    return static_cast<std::size_t>(plot.place.value_or(PlotPlace{}).column);
  });
}

}  // namespace ligule::results
