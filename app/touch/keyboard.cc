#include <algorithm>
#include <array>
#include <cmath>
#include <string>

#include "app/touch/body.h"
#include "app/touch/pads.h"

namespace ligule::touch {
namespace {

// A keyboard key is 12 mm with its share of the gaps; ten stand side by side only on wide glass.
constexpr double kKeyMm = 12.6;  // pitch
constexpr double kRowMm = 14.0;

using Row = std::vector<std::string>;

std::vector<Row> letters(bool wide) {
  if (wide)
    return {{"q", "w", "e", "r", "t", "y", "u", "i", "o", "p"},
            {"a", "s", "d", "f", "g", "h", "j", "k", "l", "\xC3\xB1"},
            {"z", "x", "c", "v", "b", "n", "m", "-", ",", "."}};
  // Where the usual order has no room, the alphabet.
  return {{"a", "b", "c", "d", "e", "f", "g"},
          {"h", "i", "j", "k", "l", "m", "n"},
          {"\xC3\xB1", "o", "p", "q", "r", "s", "t"},
          {"u", "v", "w", "x", "y", "z", "."}};
}

std::vector<Row> digits(bool wide) {
  if (wide)
    return {{"1", "2", "3", "4", "5", "6", "7", "8", "9", "0"},
            {"-", "/", ":", "(", ")", "%", "&", "+", "=", "#"},
            {".", ",", "?", "!", "'", "\"", "\xC2\xBF", "\xC2\xA1", "\xC2\xB0", "_"}};
  return {{"1", "2", "3", "4", "5", "6", "7"},
          {"8", "9", "0", "-", "/", ":", "."},
          {"(", ")", "%", "&", "+", "=", "#"},
          {",", "?", "!", "'", "\"", "\xC2\xBF", "\xC2\xA1"}};
}

std::vector<Row> accents(bool wide) {
  const Row marked{"\xC3\xA1", "\xC3\xA9", "\xC3\xAD", "\xC3\xB3",
                   "\xC3\xBA", "\xC3\xBC", "\xC3\xB1"};
  const Row signs{"\xC2\xBF", "\xC2\xA1", "\xC2\xBA", "\xC2\xAA",
                  "\xC2\xAB", "\xC2\xBB", "\xC3\xA7"};
  const Row other{"\xC3\xA0", "\xC3\xA8", "\xC3\xAC", "\xC3\xB2",
                  "\xC3\xB9", "\xC3\xA4", "\xC3\xB6"};
  if (wide) return {marked, signs, other};
  return {marked, signs, other, {".", ",", "-", "'", "\"", "?", "!"}};
}

// Capitals of ASCII and of the Latin-1 letters, whose two bytes differ by 0x20 in the second.
std::string capital(const std::string& letter) {
  std::string out = letter;
  if (out.size() == 1 && out[0] >= 'a' && out[0] <= 'z')
    out[0] = static_cast<char>(out[0] - 'a' + 'A');
  else if (out.size() == 2 && out[0] == '\xC3' && static_cast<unsigned char>(out[1]) >= 0xA0U)
    out[1] = static_cast<char>(static_cast<unsigned char>(out[1]) - 0x20U);
  return out;
}

bool wide_enough(const Ui& ui, float width) {
  return width >= ui.mm(kKeyMm * 10);
}

std::vector<Row> rows_of(KeyboardPage page, bool wide) {
  if (page == KeyboardPage::kDigits) return digits(wide);
  if (page == KeyboardPage::kAccents) return accents(wide);
  return letters(wide);
}

void take_typed(Ui& ui, std::vector<PadKey>& out) {
  for (const auto& press : ui.typed()) {
    if (press.key == platform::HardKey::kText) out.push_back({PadKey::Kind::kText, press.text});
    if (press.key == platform::HardKey::kErase) out.push_back({PadKey::Kind::kErase, {}});
    if (press.key == platform::HardKey::kEnter) out.push_back({PadKey::Kind::kDone, {}});
  }
}

// The lowest row: pages, space, erase, done.
void low_row(Ui& ui, const Rect& row, const KeyboardWords& words, KeyboardState& state, float gap,
             std::vector<PadKey>& out) {
  Cutter across(row, Axis::kAcross, gap);
  const float unit = (row.width() - 6 * gap) / 9;
  const auto small = [&](std::string_view label, bool selected, const Rect& rect) {
    return key(ui, rect,
               {.label = label, .selected = selected, .font = Font::kStrong, .halo = gap / 2});
  };
  if (small(words.capitals, state.capitals,
            across.take(std::max(unit * 1.1F, ui.mm(Sizes::kLeastMm)))))
    state.capitals = !state.capitals;
  const bool on_letters = state.page == KeyboardPage::kLetters;
  const bool on_digits = state.page == KeyboardPage::kDigits;
  if (small(on_digits ? words.letters : words.digits, false, across.take(unit * 1.2F)))
    state.page = on_digits ? KeyboardPage::kLetters : KeyboardPage::kDigits;
  const bool on_accents = !on_letters && !on_digits;
  if (small(on_accents ? words.letters : words.accents, false, across.take(unit * 1.2F)))
    state.page = on_accents ? KeyboardPage::kLetters : KeyboardPage::kAccents;
  if (key(ui, across.take_end(unit * 1.8F),
          {.label = words.done, .style = Style::kAction, .font = Font::kStrong, .halo = gap / 2}))
    out.push_back({PadKey::Kind::kDone, {}});
  if (key(ui, across.take_end(unit * 1.3F),
          {.label = words.erase, .paint = erase_sign(), .halo = gap / 2, .icon_only = true}))
    out.push_back({PadKey::Kind::kErase, {}});
  if (small(words.space, false, across.take_rest())) out.push_back({PadKey::Kind::kText, " "});
}

}  // namespace

float keyboard_height(const Ui& ui, float width) {
  const float rows = wide_enough(ui, width) ? 4 : 5;
  return rows * ui.mm(kRowMm);
}

std::vector<PadKey> keyboard(Ui& ui, const Rect& rect, const KeyboardWords& words,
                             KeyboardState& state) {
  std::vector<PadKey> out;
  if (rect.empty()) {
    ui.no_room("keyboard");
    return out;
  }
  const bool wide = wide_enough(ui, rect.width());
  const auto rows = rows_of(state.page, wide);
  const float gap = ui.mm(1.2);
  const auto strips = split(rect, Axis::kDown, rows.size() + 1, gap);
  const std::size_t columns = wide ? 10 : 7;
  const bool capitals = state.capitals;
  for (std::size_t r = 0; r < rows.size(); ++r) {
    // Rows shorter than the widest keep its key width and stand in the middle.
    const float pitch = (strips[r].width() + gap) / static_cast<float>(columns);
    const float width = pitch * static_cast<float>(rows[r].size()) - gap;
    const auto cells =
        split(centred(strips[r], width, strips[r].height()), Axis::kAcross, rows[r].size(), gap);
    for (std::size_t c = 0; c < rows[r].size(); ++c) {
      const std::string letter = capitals ? capital(rows[r][c]) : rows[r][c];
      if (!key(ui, cells[c], {.label = letter, .font = Font::kLabel, .halo = gap / 2})) continue;
      out.push_back({PadKey::Kind::kText, letter});
      // One capital, then small letters, as sentences want it.
      state.capitals = false;
      if (state.page == KeyboardPage::kAccents) state.page = KeyboardPage::kLetters;
    }
  }
  low_row(ui, strips.back(), words, state, gap, out);
  take_typed(ui, out);
  return out;
}

}  // namespace ligule::touch
