// All that plot values of a file tell, worked out in one pass over their tests.
#pragma once

#include <span>
#include <vector>

#include "sync/results/analysis.h"
#include "sync/results/design_gain.h"
#include "sync/results/entry_standing.h"
#include "sync/results/over_cuttings.h"
#include "sync/results/plot_value.h"

namespace ligule::results {

struct TestResults {
  std::vector<Analysis> analyses;           // as analyse()
  std::vector<OverCuttings> over_cuttings;  // as over_cuttings()
  std::vector<DesignGain> gains;            // as design_gains()
  // Of every entry, by label, in the order of standing_before(). A file says of entries nothing but
  // the order in which they first stand there.
  std::vector<EntryStanding> standings;
};

[[nodiscard]] TestResults test_results(std::span<const PlotValue> values,
                                       const AnalysisOptions& options);

}  // namespace ligule::results
