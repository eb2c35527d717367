// How much seed there is of each lot, from a list that people keep: the list of entries, or one of
// the store.
#pragma once

#include <map>
#include <string>
#include <string_view>

#include "storage/files/faults.h"
#include "storage/trial/quantity.h"

namespace ligule::files {

// By lot, several bags of one added up. Columns under the headings people use: the lot (Seed lot,
// Lot no.) and the amount (Seed on hand, In stock), whose unit, kg, g, lb or oz, stands behind the
// number or in the heading. Rows without an amount say nothing. Faults, all of them, by line and
// heading: no such columns, an amount that is none or has no unit, one without a lot.
[[nodiscard]] Checked<std::map<std::string, Kilograms>> read_seed_on_hand(std::string_view text,
                                                                          const std::string& file);

}  // namespace ligule::files
