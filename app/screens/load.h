// What is on the scale. Inside this room only.
#pragma once

#include <string>

#include "app/screens/pen.h"

namespace ligule::screens {

// Its state in words: "Stands still".
[[nodiscard]] std::string load_words(const Pen& pen, const flow::LoadView& load);
// State and number on a sheet.
void draw_load(const Pen& pen, const touch::Rect& rect, const flow::LoadView& load);
// The same with the key that takes it, and the way to the keypad.
void draw_load_pad(const Pen& pen, const touch::Rect& rect, const flow::LoadView& load,
                   flow::CheckDue due);
// A check weight: its mass, what is allowed, and the load (check_pad.cc).
// erase: of the erasing key where the pad has no cell for it; empty: it has.
void draw_check_pad(const Pen& pen, const touch::Rect& rect, const touch::Rect& erase,
                    const flow::CheckView& check);

// What the plot should give, on one line (gauge.cc).
void draw_gauge(const Pen& pen, const touch::Rect& rect, const flow::GaugeView& gauge);

// Why the plot has no weight (no_weight.cc).
void draw_no_weight(const Pen& pen, const touch::Rect& rect,
                    const std::vector<flow::NoWeightView>& reasons);

// What else can be said of the plot, and its pages (more.cc); the swath stands where the weights
// do.
void draw_more(const Pen& pen, const touch::Rect& rect, const flow::MoreView& view);
void draw_bag_kinds(const Pen& pen, const touch::Rect& rect,
                    const std::vector<flow::BagKindView>& kinds);
void draw_swath(const Pen& pen, const touch::Rect& rect, const std::vector<flow::FieldView>& swath,
                int block, bool can_keep);

// The page on which the port is set (scale_setup.cc).
void draw_scale_setup(const Pen& pen, const touch::Rect& rect, const flow::ScaleView& scale);

}  // namespace ligule::screens
