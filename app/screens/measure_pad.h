// The pad of one measure: drawn tiles, stages, or an amount.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/screens/pen.h"

namespace ligule::screens {

struct PadRoom {
  touch::Rect grid;   // of `columns` keys across, the room of the percent's 21 tiles
  touch::Rect area;   // the part that is free for everything else
  touch::Rect spare;  // a cell of the lowest row that nothing stands in; empty: none
  touch::Rect fine;   // of the key to a percent's single points; empty: none
  touch::Rect aside;  // for two small keys beside the pad; empty: none
  touch::Rect strip;  // for what a square pad says of itself, and a frame's two keys; empty: none
  std::size_t columns = 0;
  std::size_t rows = 0;  // of the grid where it has no room for the 21 tiles; 0: it has
  std::string plot = {};
  std::string definition = {};  // of the measure, where nothing else on the card shows it
  std::string long_value = {};  // that stands, and that its chip has no room for
  bool drilled = true;
  bool enabled = true;
  bool plain = false;  // numbers alone, without pictures
};

// Of which scale some choices are.
struct ChoiceScale {
  ScaleKind kind = ScaleKind::kScore;
  std::string_view code = {};
  bool own_words = false;  // a program's own score: its words are texts
  bool drilled = true;     // what percent stand looks at
  bool enabled = true;
  bool plain = false;  // numbers alone
};
// Choices as tiles: the picture of each, its code, its word. The tiles look at the labels.
struct ChoiceTiles {
  std::vector<std::string> labels;
  std::vector<touch::Tile> tiles;
};
[[nodiscard]] ChoiceTiles choice_tiles(const Pen& pen, const ChoiceScale& scale,
                                       std::span<const flow::ChoiceView> choices);
// Of the notes of tiles, in the smallest type they take.
[[nodiscard]] float widest_word(const touch::Ui& ui, std::span<const touch::Tile> tiles);
// How many tiles stand side by side so that picture and words of each have the most room. 0: they
// have no words, or there is no room for them.
[[nodiscard]] std::size_t best_columns(const touch::Ui& ui, const touch::Rect& rect,
                                       std::span<const touch::Tile> tiles);

// A row of fields or small keys above a pad.
inline constexpr double kPadStripMm = 14.3;
// A fine step less and one more of the amount that is given.
void draw_step_keys(const Pen& pen, const touch::Rect& less, const touch::Rect& more, bool enabled);
// The key that keeps what was gathered.
void draw_keep_gathered(const Pen& pen, const touch::Rect& rect, bool enabled);

// Pads of their own kind: number_pads.cc, shares_pad.cc, visit_pad.cc.
void draw_readings_pad(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure,
                       const flow::GatherView& gather);
void draw_shares_pad(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure,
                     const flow::GatherView& gather);
void draw_counts_pad(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure,
                     const flow::GatherView& gather);
void draw_cells_pad(const Pen& pen, const PadRoom& room, const flow::GatherView& gather);
void draw_visit_pad(const Pen& pen, const PadRoom& room, const flow::VisitsView& visits);

// The card while a note is written (note.cc).
void draw_note(const Pen& pen, const flow::RateView& view, const flow::NoteView& note);

void draw_measure_pad(const Pen& pen, const PadRoom& room, const flow::MeasureView& measure);

}  // namespace ligule::screens
