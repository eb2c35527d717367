// Check weights: whether the scale still tells the truth. Shared by update and views; not for other
// rooms.
//
// A known mass is weighed before the first plot, at noon and after the last one (common practice,
// no source). Past the allowance, every weight since the last good check is questioned together.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "app/flow/turn.h"
#include "app/flow/views.h"

namespace ligule::flow {

// Opens or closes the card on which a check weight is weighed.
void show_check(Turn& turn, bool open);
// The load that is on the scale as a check; what it says of the scale is asked about at once.
void take_check(Turn& turn);
void answer_doubted(Turn& turn, bool hold);
// Checks of acts that are let go.
void forget_checks(Harvest& harvest, const Act& act);

[[nodiscard]] bool is_good(const Record& check);
// What is due today: of the scale in use, in this cutting.
[[nodiscard]] CheckDue check_due(const Model& model, const Harvest& harvest);
[[nodiscard]] std::optional<CheckView> check_view(const Model& model, const Harvest& harvest,
                                                  const Weighing& weighing);

}  // namespace ligule::flow
