// How far an occasion is, counted from its standing claims.
#pragma once

#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "app/flow/known.h"

namespace ligule::flow {

// The scale of a measure in a trial: the program's own, or that of the species. Null: it has none.
[[nodiscard]] const Scale* scale_in(const KnownTrial& trial, const Definitions& definitions,
                                    std::string_view measure, std::string_view species);

// Measures of the occasion that a plot can have: those with a scale for the species it holds. A
// cutting without a list of measures asks for the plot's weight.
[[nodiscard]] std::vector<std::string> measures_of(const KnownTrial& trial,
                                                   const PlanOccasion& occasion,
                                                   const PlanPlot& plot,
                                                   const Definitions& definitions);
// The measures that must have a value before a plot is done: of a rating all but the note; of a
// cutting gross weight. None where the occasion is not for the entry it holds.
[[nodiscard]] std::vector<std::string> needed_of(const KnownTrial& trial,
                                                 const PlanOccasion& occasion, const PlanPlot& plot,
                                                 const Definitions& definitions);
// Whether a plot that was weighed so (null: not yet) needs a sample bag before it is done: the plan
// lists bags, and there is a weight. Where nothing was weighed there is nothing to sample.
[[nodiscard]] bool wants_bag(const KnownTrial& trial, const PlanOccasion& occasion,
                             const PlanPlot& plot, const Definitions& definitions,
                             const Record* gross);
[[nodiscard]] PlotId plot_id_in(const KnownTrial& trial, const PlanPlot& plot);
// The entry a plot holds: as sown where that was stated, else as planned; null when unknown.
[[nodiscard]] const PlanEntry* entry_of(const KnownTrial& trial, const PlanPlot& plot);
// Since when a plot is abandoned on a day; empty: it is not, or there is none of that number.
[[nodiscard]] std::optional<CalendarDate> abandoned_since(const KnownTrial& trial,
                                                          std::string_view number,
                                                          CalendarDate day);
// Plots that take part on a day: along the path, without those abandoned by then.
[[nodiscard]] std::vector<PlanPlot> plots_on(const KnownTrial& trial, CalendarDate day);

// claims: standing claims of the occasion (purpose survey), plots and bags. today: values and
// questions of this local date are told apart.
[[nodiscard]] OccasionProgress progress_of(const KnownTrial& trial, const PlanOccasion& occasion,
                                           const Definitions& definitions,
                                           std::span<const KnownClaim> claims, CalendarDate today);

}  // namespace ligule::flow
