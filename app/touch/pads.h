// Pads that values are tapped on: numbers, tiles, stages, letters.
//
// Pads hold no value: they say which key was tapped and the caller's state moves. apply() is the
// common way of moving a text.
#pragma once

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "app/touch/key.h"

namespace ligule::touch {

// What one tap (or one hardware key) on a number pad or keyboard meant.
struct PadKey {
  enum class Kind { kText, kErase, kDone };
  Kind kind = Kind::kText;
  std::string text;
  bool operator==(const PadKey&) const = default;
};

// Moves a text by one key: appends, or erases the last whole letter. most: letters at most.
// false: the key changed nothing (full, already empty, a second decimal point).
bool apply(const PadKey& key, std::string& text, std::size_t most, bool number = false);

struct NumberPad {
  std::string_view erase = {};  // names from the words file; the erase key shows a sign
  std::string_view done = {};   // empty: no key for it
  bool decimals = false;
  bool can_done = true;
  char point = '.';  // what the decimal key shows and types
  bool hard = true;  // a hardware keyboard's digits too; false where the screen takes them itself
  Rect erase_place = {};  // where low or narrow glass has no cell for it; empty: among the keys
};
// 1 2 3 / 4 5 6 / 7 8 9 / point 0 erase: a telephone's order (people enter faster on a fixed, known
// layout), with done below or, where it is low, beside. With the erasing key elsewhere, twelve
// cells do: three across and four down or, on low glass alone, the other way. Every tap of this
// frame, in order; hardware digits too.
[[nodiscard]] std::vector<PadKey> number_pad(Ui& ui, const Rect& rect, const NumberPad& pad);
// The room it wants at key size, in its telephone form: 3 keys across, 4 down, done beside.
[[nodiscard]] Point number_pad_size(const Ui& ui, const NumberPad& pad);

struct Tile {
  std::string_view label = {};
  std::string_view note = {};
  Paint paint = {};
  std::string_view figure = {};  // a number beside the picture (Tiles::figures)
  bool selected = false;
  bool enabled = true;
};
struct Tiles {
  std::size_t columns = 0;  // 0: as fits
  std::size_t rows = 0;     // with columns: so many, however few tiles there are; 0: as needed
  bool primary = true;
  Font font = Font::kLabel;
  double most_mm = 34;       // a tile grows to this
  bool label_below = false;  // the picture above, label and note on a strip of their own
  // Numbers on card: beside the picture or, without label_below, beside the label.
  bool figures = false;
};
// The place of the tile that was tapped.
[[nodiscard]] std::optional<std::size_t> tile_pad(Ui& ui, const Rect& rect,
                                                  std::span<const Tile> tiles,
                                                  const Tiles& options = {});

// Stages one under the other (in as many columns as it takes), joined by a stem, each with its code
// and word; scrolls by itself when they do not fit.
struct Stage {
  std::string_view label = {};  // the code, "2##m2"
  std::string_view word = {};
  Paint paint = {};  // the drawn stage
  bool selected = false;
};
[[nodiscard]] std::optional<std::size_t> ladder(Ui& ui, std::string_view name, const Rect& rect,
                                                std::span<const Stage> stages);

// An on-screen keyboard with the letters of English and Spanish.
struct KeyboardWords {
  std::string_view space = {};
  std::string_view erase = {};
  std::string_view done = {};
  std::string_view capitals = {};
  std::string_view digits = {};   // "123"
  std::string_view letters = {};  // "abc"
  std::string_view accents = {};  // "áñ"
};
enum class KeyboardPage { kLetters, kDigits, kAccents };
struct KeyboardState {
  KeyboardPage page = KeyboardPage::kLetters;
  bool capitals = true;  // for the next letter
};
[[nodiscard]] std::vector<PadKey> keyboard(Ui& ui, const Rect& rect, const KeyboardWords& words,
                                           KeyboardState& state);
[[nodiscard]] float keyboard_height(const Ui& ui, float width);

}  // namespace ligule::touch
