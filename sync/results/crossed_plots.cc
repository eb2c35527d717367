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

std::vector<statistics::Observation> observations_of(const TestTable& table,
                                                     const Selected& selected,
                                                     const std::vector<std::size_t>& blocks) {
  std::vector<statistics::Observation> observations;
  observations.reserve(selected.plots.size());
  for (std::size_t i = 0; i < selected.plots.size(); ++i)
    observations.push_back({table.plots[selected.plots[i]].entry, blocks[i], selected.values[i]});
  return observations;
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
      data.terms.push_back({complete_blocks(table, selected).of_plot, {}});
      break;
    case Design::kIncompleteBlocks:
      data.terms.push_back({incomplete_blocks(table, selected).of_plot, {}});
      break;
    case Design::kLatinSquare:
      data.terms = {rows_term(table, selected), columns_term(table, selected)};
      break;
    case Design::kCompletelyRandomised:
      break;
  }
  return data;
}

statistics::Fit fit_in_blocks(const TestTable& table, const Selected& selected,
                              const Blocks& blocks) {
  return statistics::fit_in_blocks(observations_of(table, selected, blocks.of_plot),
                                   table.entries.size(), blocks.count);
}

statistics::Fit fit_without_blocks(const TestTable& table, const Selected& selected) {
  return statistics::fit_one_way(
      observations_of(table, selected, std::vector<std::size_t>(selected.plots.size(), 0)),
      table.entries.size());
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
