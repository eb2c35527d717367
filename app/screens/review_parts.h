// The pieces of Review that fill a file of their own. Inside this room only.
#pragma once

#include "app/screens/pen.h"

namespace ligule::screens {

// The plots in their rows and columns; cells never get under finger size, the map scrolls both ways
// instead.
void draw_map(const Pen& pen, const touch::Rect& rect, const flow::MapView& map);
// Whether it does.
[[nodiscard]] bool map_scrolls(const Pen& pen, const touch::Rect& rect, const flow::MapView& map);
// All plots at once, by colour and shape, with their values where those have room. A tap goes back
// to the map, at the plots that lie under it.
void draw_whole_map(const Pen& pen, const touch::Rect& rect, const flow::MapView& map);
// The ramp with its numbers, and what the shapes mean.
void draw_legend(const Pen& pen, const touch::Rect& rect, const flow::MapView& map);
// What it needs to show its numbers side by side, and to explain every shape on this map.
[[nodiscard]] float legend_width(const Pen& pen, const flow::MapView& map);
[[nodiscard]] float legend_height(const Pen& pen, const flow::MapView& map, float width);

// The words of a code, or the text itself where somebody wrote their own.
[[nodiscard]] std::string words_or(const Pen& pen, const std::string& family,
                                   const std::string& code);

// Every record about a plot, newest first.
void draw_history(const Pen& pen, const touch::Rect& rect, const flow::HistoryView& history);

// What was asked about, one value after the other.
void draw_questions(const Pen& pen, const touch::Rect& rect, const flow::QuestionsView& view);

// A standing value being put right: what stands, how, the new value, and the reason that does it.
void draw_mend(const Pen& pen, const flow::HeadView& status, const flow::MendView& mend);

// The path before and after a slide, and what does it. where: the occasion, in words.
void draw_slide(const Pen& pen, const touch::Rect& rect, const flow::SlideView& slide,
                std::string_view where);

}  // namespace ligule::screens
