// Pieces that several views share; not for other rooms.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "app/flow/book.h"
#include "app/flow/views.h"

namespace ligule::flow {

[[nodiscard]] HeadView head_view(const Model& model);
[[nodiscard]] Age age_of(UtcInstant then, const Stamp& now);
[[nodiscard]] OwnNames own_names(const Plan& plan);
[[nodiscard]] OccasionName name_of(const Plan& plan, const PlanOccasion& occasion);
[[nodiscard]] Mark mark_of(const Cell& cell);
// Whether a mark needs a person more than another.
[[nodiscard]] bool needs_more(Mark mark, Mark than);
// Of several marks the one that needs a person most; over all a plot holds in this occasion.
[[nodiscard]] Mark plot_mark(const Model& model, const Book& book, const PlanPlot& plot);
[[nodiscard]] std::vector<StakeView> lane_view(const Model& model, const Book& book);
[[nodiscard]] StakeCard stake_card(const Model& model, const Book& book);
[[nodiscard]] std::size_t plots_done(const Model& model, const Book& book);
// The name results print the plot's entry under; empty while blind or when nobody knows.
[[nodiscard]] std::string entry_shown(const Model& model, const Book& book, const PlanPlot& plot);

// open: plots that are still to be done.
[[nodiscard]] SupplyView supply_view(const Model& model, std::int64_t open);
[[nodiscard]] std::optional<Words> supply_warning(const Model& model, std::size_t open);

// Key of a step's word; empty where the scale names only its ends.
[[nodiscard]] std::string step_word(const Scale& scale, std::string_view code);

// What the pads of several numbers and of dates show, into a view that holds the rest
// (view_pads.cc).
void add_pad(const Model& model, const Rating& rating, const PlanPlot& plot, const Scale& scale,
             MeasureView& view);

[[nodiscard]] TodayView today_view(const Model& model);
[[nodiscard]] RateView rate_view(const Model& model, const Rating& rating);
[[nodiscard]] HarvestView harvest_view(const Model& model, const Harvest& harvest);
[[nodiscard]] SortingView sorting_view(const Model& model, const Sorting& sorting);
[[nodiscard]] DryView dry_view(const Model& model, const DryWeights& dry);
[[nodiscard]] MendView mend_view(const Model& model, const Review& review, const Record& record);
[[nodiscard]] std::string initials_of(const Model& model, const Record& record);
// Key of the word that says what a visit found; empty for what has a number or a code.
[[nodiscard]] std::string visit_word(const Scale* scale, const Record& record);
// Key of the words that were said with a weight; empty: nothing was.
[[nodiscard]] std::string said_word(const Record& record);
[[nodiscard]] SlideView slide_view(const Model& model, const Review& review,
                                   const Sliding& sliding);
[[nodiscard]] ReviewView review_view(const Model& model, const Review& review);
[[nodiscard]] TrialsView trials_view(const Model& model, const Trials& trials);
// view_soil.cc: each property once, the newest samples, in the order of the tables.
[[nodiscard]] std::vector<SoilRow> soil_rows(const Model& model, const Plan& plan);
[[nodiscard]] DaysEndView days_end_view(const Model& model);
// view_load.cc
[[nodiscard]] LoadView load_view(const Model& model);
[[nodiscard]] std::optional<MovingView> moving_view(const Model& model);
[[nodiscard]] std::optional<ScaleView> scale_view(const Model& model, const OnTablet& screen);
[[nodiscard]] TabletView tablet_view(const Model& model, const OnTablet& screen);

}  // namespace ligule::flow
