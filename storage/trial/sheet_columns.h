// What of a rating or cutting is written on paper when there is no tablet: the columns of a plot
// sheet and of the table that is typed from it, and where each of them is typed in.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "storage/trial/as_sown.h"
#include "storage/trial/plan.h"
#include "storage/trial/scale.h"

namespace ligule {

enum class TypedIn {
  kFromPaper,  // ligule-desk from-paper
  kTakeIn,     // ligule-desk take-in: weights, and the bags that samples hang on
  kTablet,     // on a tablet only
};

struct SheetColumn {
  std::string measure;
  std::vector<const Scale*> scales;  // of what was sown, each once; never empty, none is null
  TypedIn typed = TypedIn::kFromPaper;

  bool operator==(const SheetColumn&) const = default;
};

// In the order of the card, notes last, since they are written where room is left. A measure that
// nothing sown there has a scale for is left out. Plan and definitions must outlive it.
[[nodiscard]] std::vector<SheetColumn> sheet_columns(const Plan& plan, const PlanOccasion& occasion,
                                                     const Definitions& definitions);

// The scale of a measure for a species, the program's own scores of the plan among them; null:
// there is none.
[[nodiscard]] const Scale* sheet_scale(const Plan& plan, const Definitions& definitions,
                                       std::string_view measure, std::string_view species);

// What stands on a plot as far as anybody said: another entry where it holds one, else the planned
// one; null where the plan does not know it. as_sown: the newest statement of each plot.
[[nodiscard]] const PlanEntry* entry_on(const Plan& plan, std::span<const AsSown> as_sown,
                                        const PlanPlot& plot);

// Whether somebody rates or weighs that plot in it: it is for what stands there, and the plot was
// not abandoned.
[[nodiscard]] bool is_on_sheet(const Plan& plan, const PlanOccasion& occasion,
                               std::span<const AsSown> as_sown, const PlanPlot& plot);

}  // namespace ligule
