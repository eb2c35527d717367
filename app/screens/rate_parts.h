// The pieces of the rating card that fill a file of their own. Inside this room only.
#pragma once

#include <string>

#include "app/screens/pen.h"
#include "app/screens/rate_layout.h"

namespace ligule::screens {

// The trial, and whether it is rated by a second person.
[[nodiscard]] std::string trial_words(const Pen& pen, const flow::RateView& view);
// That, and the rating.
[[nodiscard]] std::string where_words(const Pen& pen, const flow::RateView& view);
// Whether a shown entry's name has its own line under the plot's number.
[[nodiscard]] bool name_under_number(const touch::Ui& ui, const RateLayout& layout);
// Number, and where the plot lies, or what is nearly used up.
void draw_plot_and_place(const Pen& pen, const RateLayout& layout, const flow::RateView& view);

}  // namespace ligule::screens
