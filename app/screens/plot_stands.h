// The number of the plot on a card as the way to what really stands there. Inside this room only.
#pragma once

#include "app/screens/pen.h"

namespace ligule::screens {

// Room in pixels that its sign takes beside the number.
[[nodiscard]] float stands_sign_width(const touch::Ui& ui);
// The sign beside a number that ends at `after` in `strip`: a seedling, or what was stated. Where
// it has no room only what was stated is drawn, over the end of the strip.
void draw_stands_sign(const Pen& pen, const touch::Rect& strip, float after,
                      const flow::StandsView& stands);
// The whole of `rect` answers a tap: one step to what this plot holds.
void stands_part(const Pen& pen, const touch::Rect& rect, const flow::StandsView& stands);

}  // namespace ligule::screens
