// What the design of each analysis gained: the error it would have had with less of it.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "sync/results/analysis.h"
#include "sync/results/plot_value.h"
#include "sync/statistics/efficiency.h"

namespace ligule::results {

// Ratios as in statistics/efficiency.h: 1.25 says that the lesser design would have needed a
// quarter more plots for the same precision. Empty where there is no error mean square above zero,
// and for what the design does not have.
struct DesignGain {
  std::string test;
  Span span = Span::kCutting;
  std::optional<int> year;  // as of Analysis
  std::string cutting;
  Design design = Design::kRandomisedBlocks;
  std::optional<double> df_error;
  std::optional<statistics::Efficiency> over_none;     // no blocking at all
  std::optional<statistics::Efficiency> over_rows;     // of a Latin square: rows as blocks only
  std::optional<statistics::Efficiency> over_columns;  // columns as blocks only
  std::optional<statistics::Efficiency> over_blocks;   // of incomplete blocks: the reps only
};

// One for each analysis of plots with a value, in the order of analyse(), with the same options; a
// Latin square whose places are not known has no figures.
[[nodiscard]] std::vector<DesignGain> design_gains(std::span<const PlotValue> values,
                                                   const AnalysisOptions& options);

// designs.csv; empty without any.
[[nodiscard]] std::string designs_csv(std::span<const DesignGain> gains);

}  // namespace ligule::results
