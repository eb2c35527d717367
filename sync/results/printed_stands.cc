#include "sync/results/printed_stands.h"

#include <algorithm>
#include <vector>

namespace ligule::results {
namespace {

template <class Row>
void rename(std::vector<Row>& rows, const PrintedName& printed) {
  std::vector<Row> shown;
  for (Row& row : rows) {
    const auto name = name_in_print(printed, row.entry);
    if (!name) continue;
    row.entry = *name;
    shown.push_back(std::move(row));
  }
  std::ranges::sort(shown, {}, &Row::entry);
  rows = std::move(shown);
}

}  // namespace

void print_names(StandPersistence& stands, const PrintedName& printed) {
  for (StandPass& pass : stands.passes) rename(pass.stand.means, printed);
  rename(stands.entries, printed);
  rename(stands.left.means, printed);
}

// Residuals keep their order, which is that of the field.
void print_names(FieldTrend& trend, const PrintedName& printed) {
  rename(trend.means, printed);
  std::erase_if(trend.residuals, [&](PlacedResidual& plot) {
    const auto name = name_in_print(printed, plot.entry);
    if (name) plot.entry = *name;
    return !name;
  });
}

void print_names(GrazingTest& grazing, const PrintedName& printed) {
  for (GrazedPass& pass : grazing.passes) rename(pass.analysis.means, printed);
}

}  // namespace ligule::results
