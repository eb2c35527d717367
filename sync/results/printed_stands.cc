#include "sync/results/printed_stands.h"

#include <algorithm>
#include <utility>
#include <vector>

namespace ligule::results {
namespace {

// Rows that stand in byte order of the entries.
template <class Row>
void rename(std::vector<Row>& rows, const PrintedName& printed) {
  rows = printed_rows(std::move(rows), &Row::entry, printed);
  std::ranges::sort(rows, {}, &Row::entry);
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
  trend.residuals = printed_rows(std::move(trend.residuals), &PlacedResidual::entry, printed);
}

void print_names(GrazingTest& grazing, const PrintedName& printed) {
  for (GrazedPass& pass : grazing.passes) rename(pass.analysis.means, printed);
}

}  // namespace ligule::results
