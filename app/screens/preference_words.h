// What choices on the Tablet screen are called. Inside this room only.
#pragma once

#include <string>

#include "app/screens/pen.h"

namespace ligule::screens {

// "Hand that taps".
[[nodiscard]] std::string_view preference_name(const Pen& pen, flow::Preference what);
// "Left": the option's own name, of a language or a port, or the word for its code.
[[nodiscard]] std::string option_name(const Pen& pen, flow::Preference what,
                                      const flow::OptionView& option);

}  // namespace ligule::screens
