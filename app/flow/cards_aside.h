// What was begun on the cards of a rating: it waits while the rating is left, and numbers begun in
// another unit than the person's are let go. Used by update; not for other rooms.
#pragma once

#include <map>
#include <string>
#include <utility>

#include "app/flow/turn.h"

namespace ligule::flow {

using BegunUnits = std::map<std::pair<std::string, std::string>, std::string>;
// The unit of each row of numbers begun on the card, by plot and measure.
[[nodiscard]] BegunUnits begun_units(const Model& model, const Rating& rating);
[[nodiscard]] BegunUnits begun_units(const Model& model);
// Numbers begun in another unit than the present person's are begun again, and that is told.
void forget_other_units(Turn& turn, const BegunUnits& before);

}  // namespace ligule::flow
