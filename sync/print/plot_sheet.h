// Plot sheets: a rating or cutting on paper, for the day when the tablet lies in the mud. A row a
// plot along the plot path, a box a measure, beside it what the plot had last.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "storage/trial/sheet_columns.h"
#include "sync/print/page.h"
#include "sync/results/last_seen.h"

namespace ligule::print {

struct PlotSheets {
  const Plan* plan = nullptr;              // never null, as the next two
  const PlanOccasion* occasion = nullptr;  // of that plan
  const Definitions* definitions = nullptr;
  std::span<const AsSown> as_sown = {};  // the newest statement of each plot
  const results::Seen* seen = nullptr;   // null: nothing is known, as of a plan folder
  Paper paper = Paper::kLetter;
  bool names = false;     // entries are named; else whoever rates does so blind
  std::string unit = {};  // of lengths and weights; empty: the first of each scale
};

// How many sheets of paper they are, and their text.
struct PrintedSheets {
  std::string html;
  std::size_t sheets = 0;
};
[[nodiscard]] PrintedSheets plot_sheets(const PlotSheets& wish);

// The table that is filled in at the desk and typed in by from-paper (weights: take-in): a row a
// plot of the sheet, a column a measure, nothing in it but the plot's number.
[[nodiscard]] std::string plot_sheets_csv(const PlotSheets& wish);

}  // namespace ligule::print
