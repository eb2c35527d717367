// All of touch in one include, and how a screen is written.
//
// A screen is a function. It reads a const state, lays rectangles out with Cutter, split and
// fit_grid, gives each to a widget, and turns taps into intents. It computes no numbers, formats no
// values, keeps nothing between frames, and never calls the drawing library (a test looks).
//
//   void draw_vigor(touch::Ui& ui, const flow::VigorView& view, std::vector<flow::Intent>& out) {
//     auto group = ui.group("Rate");                          // drive files: tap "Rate/Back"
//     touch::Cutter down(ui.page(), touch::Axis::kDown, ui.gap());
//     if (touch::head(ui, down.take(touch::head_height(ui)),
//                     {.title = view.words.rate, .note = view.progress, .back = view.words.back}))
//       out.push_back(flow::Leave{});
//     const Rect lane = down.take_end(touch::stake_lane_height(ui));   // from the bottom
//     if (auto n = touch::stake_lane(ui, "stakes", lane, view.stakes, view.present))
//       out.push_back(flow::GoTo{*n});
//     touch::Cutter across(down.take_rest(), touch::Axis::kAcross, ui.gap());
//     // The pad goes to the hand that taps; its partner gets the rest.
//     const float pad_width = ui.mm(100);
//     const Rect pad = ui.left_handed() ? across.take(pad_width) : across.take_end(pad_width);
//     touch::text(ui, across.take_rest(), {.text = view.plot, .font = touch::Font::kPlot});
//     std::vector<touch::Tile> tiles;                         // string_views into the view
//     for (const auto& step : view.steps)
//       tiles.push_back({.label = step.id, .note = step.word, .selected = step.chosen});
//     if (auto n = touch::tile_pad(ui, pad, tiles, {.columns = 5})) out.push_back(flow::Rate{*n});
//     if (view.question)                                       // last: it lies over the rest
//       if (auto n = touch::question(ui, *view.question)) out.push_back(flow::Answer{*n});
//   }
//
// Ids: a label is "shown##id" ("5##vigor5"); the shown part is what `tap` names, the id only keeps
// two keys with one label apart. Inside a group ids need be unique only there.
// Sizes: ui.mm(20) is 20 mm; ui.key(), ui.gap() follow glove mode. Nothing tappable under 12 mm.
// A rectangle that comes back empty means there was no room: lay it out otherwise in portrait
// (ui.portrait()), or put it into auto scroll = ui.scroll("name", rect) and cut scroll.area().
// Test a screen by drawing it at each size and asking geometry_faults(ui.seen()).
#pragma once

#include "app/touch/canvas.h"
#include "app/touch/key.h"
#include "app/touch/layout.h"
#include "app/touch/pads.h"
#include "app/touch/register.h"
#include "app/touch/sheets.h"
#include "app/touch/text.h"
#include "app/touch/theme.h"
#include "app/touch/ui.h"
