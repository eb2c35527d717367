// What a plot's forage hangs in: several bags that add up, and what an empty one weighs. Shared by
// update and views; not for other rooms.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "app/flow/turn.h"
#include "app/flow/views_fields.h"
#include "storage/trial/quantity.h"

namespace ligule::flow {

// When a weight hung on the scale: what only restates it (weeds only, an exchange, a doubt) is
// later.
[[nodiscard]] const Stamp& weighed_at(const KnownClaim& claim);
// Gross weights of the plot that stand as something, in the order of its bags.
[[nodiscard]] std::vector<Cell> gross_cells(const Model& model, const Book& book,
                                            const PlanPlot& plot);
// The forage of all its bags together, tares taken off; empty where one of them has no weight, or
// none was weighed.
[[nodiscard]] std::optional<Kilograms> forage_of(const Model& model, const Book& book,
                                                 const PlanPlot& plot);
// The same with its containers, as people read it, "45.3 lb"; empty: not more than one bag.
[[nodiscard]] std::string bags_together(const Model& model, const Book& book, const PlanPlot& plot);
// The last bag of a plot that something stands for; 1: none, or one.
[[nodiscard]] int last_bag(const Model& model, const Book& book, const PlanPlot& plot);

// What an empty bag of a kind weighs: the newest tare of that kind in this cutting, the one of
// `except` left out, that nobody was asked about, or of which they said that it holds from now on.
// Kind "": a tare of which nobody said what it is of.
[[nodiscard]] const Record* standing_tare(const Model& model, const Harvest& harvest,
                                          std::string_view kind, const Slot* except = nullptr);
// The plot weight entered before, today, that of `except` left out.
[[nodiscard]] std::optional<checks::EnteredWeight> weighed_before(const Model& model,
                                                                  const Harvest& harvest,
                                                                  const Slot& except);

void more_bag(Turn& turn);
// The next bag of the plot goes on the scale.
void open_bag(Harvest& harvest, Weighing& weighing, int bag);
void choose_bag_kind(Turn& turn, std::string_view kind);
[[nodiscard]] std::vector<BagKindView> bag_kinds(const Model& model, const Harvest& harvest,
                                                 const Weighing& weighing);

}  // namespace ligule::flow
