// The one way to change the model.
#pragma once

#include <functional>

#include "app/flow/effects.h"
#include "app/flow/intents.h"
#include "app/flow/model.h"

namespace ligule::flow {

struct Event {
  Stamp at;
  Intent what;
};

// Makes the id of a record for something that happens at this instant.
using IdSource = std::function<RecordId(UtcInstant)>;

// Takes in what happened and returns what to do, in order. An intent that makes no sense on the
// present screen (a late tap) changes nothing but the clock.
[[nodiscard]] Effects update(Model& model, const Event& event, const IdSource& ids);

}  // namespace ligule::flow
