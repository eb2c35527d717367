// What sticks and cards hold for this tablet, as a row above what is due or what is here already.
// Inside this room only.
#pragma once

#include "app/screens/pen.h"

namespace ligule::screens {

// Height in pixels at that width; 0 where there is nothing to tell. key: width of its key, as of
// the keys in the rows below.
[[nodiscard]] float stick_row_height(const Pen& pen, const flow::StickView& view, float width,
                                     float key);
// One tap takes in all new plans; where there are none but others, it shows those.
void draw_stick_row(const Pen& pen, const touch::Rect& rect, const flow::StickView& view,
                    float key);

}  // namespace ligule::screens
