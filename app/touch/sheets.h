// Larger pieces: sheets, banners, questions, the lane of stakes.
#pragma once

#include <optional>
#include <span>
#include <string_view>

#include "app/touch/key.h"

namespace ligule::touch {

// A sheet of card on the ground. Returns the room inside its margin.
Rect sheet(Ui& ui, const Rect& rect);

// A part of a sheet that answers as the sheet's key does: whoever taps the words means it too.
// label: what the part says, found under it. Draw what stands on it afterwards.
[[nodiscard]] bool sheet_part(Ui& ui, const Rect& rect, std::string_view label);

// The head of a screen: title, second line, and an optional way back. Returns true when the way
// back was tapped. Height: head_height(). A title too long for a line takes the second one.
struct Head {
  std::string_view title = {};
  std::string_view note = {};
  std::string_view back = {};  // its word; empty: none
  bool note_may_cut = false;   // a person's own words, however long
};
[[nodiscard]] float head_height(const Ui& ui);
// The least width in which a title stands whole in a head of that height: on two lines where it is
// high enough for them.
[[nodiscard]] float least_title_width(const Ui& ui, std::string_view title, float height);
[[nodiscard]] bool head(Ui& ui, const Rect& rect, const Head& head);

enum class Mood { kCalm, kDone, kAsk };
struct Banner {
  std::string_view text = {};
  Mood mood = Mood::kCalm;
  std::optional<Shape> shape = {};
};
void banner(Ui& ui, const Rect& rect, const Banner& banner);
[[nodiscard]] float banner_height(const Ui& ui, const Banner& banner, float width);

// How far something is: a bar with a text beside it.
void progress(Ui& ui, const Rect& rect, double share, std::string_view text);

// A card over the screen, which is dimmed: while what it gives back lives, widgets lie on the card
// and nothing beneath can be tapped.
[[nodiscard]] Ui::Panel card(Ui& ui, const Rect& rect, std::string_view title,
                             Mood mood = Mood::kAsk);

// A question over the screen: what was seen, why it is odd, and up to six answers. The answer that
// was tapped. Nothing else can be tapped meanwhile.
struct Question {
  std::string_view title = {};
  std::string_view text = {};
  std::span<const Key> answers = {};
  Mood mood = Mood::kAsk;
};
[[nodiscard]] std::optional<std::size_t> question(Ui& ui, const Question& question);

// The lane: one stake a plot along the plot path, state by shape, the present one raised in the
// middle. Whole stakes only, 12 mm and more; where two have room the one before shows beside the
// present one, where one has, it alone. A finger drags it stake by stake; a tap names the stake.
struct Stake {
  std::string_view label = {};  // the plot number, found as "204"
  Shape state = Shape::kOpen;
  std::string_view value = {};  // the state's word, for list
};
[[nodiscard]] std::optional<std::size_t> stake_lane(Ui& ui, std::string_view name, const Rect& rect,
                                                    std::span<const Stake> stakes,
                                                    std::size_t present);
[[nodiscard]] float stake_lane_height(const Ui& ui);
// The least it can do with: number and state side by side, no pointed ends. Any height from here on
// is fine.
[[nodiscard]] float low_lane_height(const Ui& ui);

}  // namespace ligule::touch
