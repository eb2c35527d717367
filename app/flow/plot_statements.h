// What a crew says of the plot at the scale beside its weight: that it held weeds only, how long
// and wide the strip was. Shared by update and views; not for other rooms.
#pragma once

#include <vector>

#include "app/flow/turn.h"
#include "app/flow/views_fields.h"

namespace ligule::flow {

// Opens what stands in the place of the pad.
void show_page(Turn& turn, PlotPage page);
// Of the weight that stands, or of the one about to be taken; said again, after all not.
void say_weeds_only(Turn& turn);
// Of a weight or weights of a plot: nothing that was sown is in it.
[[nodiscard]] bool holds_weeds_only(const Model& model, const Book& book, const PlanPlot& plot);
// Its page, with what stands, or with what was typed before and not kept.
void open_strip(const Turn& turn, const Harvest& harvest, Weighing& weighing);
// What is typed on its page waits in the form while the page is closed.
void leave_strip(const Model& model, const Harvest& harvest, Weighing& weighing);
// What was typed as length and width of the strip, after its ends were trimmed; on the page of the
// weeds by eye those, of the plot alone.
void keep_swath(Turn& turn, bool block);

[[nodiscard]] std::vector<FieldView> swath_fields(const Model& model, const Harvest& harvest,
                                                  const Weighing& weighing);
[[nodiscard]] std::vector<FieldView> weeds_fields(const Model& model, const Harvest& harvest,
                                                  const Weighing& weighing);
[[nodiscard]] MoreView more_view(const Model& model, const Harvest& harvest,
                                 const Weighing& weighing);

}  // namespace ligule::flow
