// Several faults at once. A person mends a file in one sitting, so readers of what people write
// (plans, definitions, tables) never stop at the first fault.
#pragma once

#include <expected>
#include <vector>

#include "storage/trial/error.h"

namespace ligule::files {

// In the order a person meets them: by file, then line.
using Faults = std::vector<Error>;

// The thing read, or every fault found (never empty).
template <class T>
using Checked = std::expected<T, Faults>;

}  // namespace ligule::files
