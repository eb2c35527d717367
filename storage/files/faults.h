// Several faults at once. A person mends a file in one sitting, so readers of what people write
// (plans, definitions, tables) never stop at the first fault.
#pragma once

#include <cstddef>
#include <expected>
#include <vector>

#include "storage/trial/error.h"

namespace ligule::files {

// In the order a person meets them: by file, then line.
using Faults = std::vector<Error>;

// As many as are told of one table: whoever has more mends these first. A file that is nothing but
// faults fills no memory, and no screen.
inline constexpr std::size_t kMostFaults = 500;

// Adds a fault; in the place of the one that is too many it is told that there are more.
void add_fault(Faults& faults, Error fault);

// The thing read, or the faults found (never empty).
template <class T>
using Checked = std::expected<T, Faults>;

}  // namespace ligule::files
