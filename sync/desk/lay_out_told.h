// What lay-out says of a trial it has laid out.
#pragma once

#include <ostream>
#include <string>
#include <string_view>
#include <vector>

#include "storage/design/lay_out.h"
#include "storage/trial/error.h"
#include "storage/trial/plan.h"

namespace ligule::desk {

// The variety of fillers that the list of entries does not name.
inline constexpr std::string_view kNamelessFiller = "Filler";

// Blocks and plots, the seed, the design and what it costs, and how much ground the trial takes.
void tell_lay_out(const Plan& plan, const design::LaidOut& laid, std::ostream& out);

// What is no fault of the lay-out but may not be meant: plots of one entry that touch, incomplete
// blocks that a row's end cuts in two, fillers of nobody knows what.
[[nodiscard]] std::vector<Error> odd_in_lay_out(const Plan& plan, const design::LaidOut& laid);

// The field as one stands in front of it: the last row at the top, each plot as its number and the
// code of its entry.
[[nodiscard]] std::string field_map(const Plan& plan);

}  // namespace ligule::desk
