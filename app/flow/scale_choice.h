// Which scale the tablet is plugged into, and how its indicator speaks. Shared by update and views;
// not for other rooms.
#pragma once

#include <string>
#include <vector>

#include "app/flow/turn.h"
#include "app/flow/views.h"

namespace ligule::flow {

// Whether the choice is one of the scale's; then it is made, or passed over as unknown.
[[nodiscard]] bool choose_scale(Turn& turn, const Choose& intent);
void show_scale(Turn& turn);

// The form of line in force; null: there is none.
[[nodiscard]] const LineFormName* line_form(const Model& model);
[[nodiscard]] std::vector<PreferenceView> scale_rows(const Model& model);
// "usb-0001" of "/dev/serial/by-id/usb-0001"; empty: none.
[[nodiscard]] std::string port_name(const std::string& port);

}  // namespace ligule::flow
