// What places to copy to are called.
#pragma once

#include <string>

#include "app/flow/model.h"

namespace ligule::flow {

// The name a place shows on its key. One that is no longer there: the last part of its path.
[[nodiscard]] std::string place_name(const Model& model, const std::string& path);

}  // namespace ligule::flow
