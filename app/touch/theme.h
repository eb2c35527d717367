// Sizes and colours: the only place that has any.
//
// Sizes are millimetres on the glass, turned into pixels by the display's real dots per inch.
// Colours are a table, so that a test computes their contrast. Two themes: paper for sunlight
// (near-black on warm white; outdoors only that stays readable) and dusk for the night.
// Key size and gap: 20 mm keys were typed on fastest with fewest errors, larger ones gained
// nothing (Colle & Hiszem 2004, Ergonomics 47:1406); 3 mm gaps were fastest (J Human Ergology
// 1996, 25:167). Glove sizes, a quarter more, are common practice, no source.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string_view>
#include <vector>

#include "app/platform/fonts.h"
#include "app/platform/geometry.h"

namespace ligule::touch {

using platform::Point;
using platform::Rect;

enum class Tone {
  kGround,         // the paper everything lies on
  kCard,           // a sheet on the ground; the face of a key
  kSunk,           // a well that values sit in; the track of a lane
  kInk,            // text
  kInkSoft,        // second text: still 7:1
  kLine,           // borders of keys and sheets, 3:1 and more on ground and card
  kAction,         // the one colour of "go": meadow green
  kOnAction,       // text on it
  kActionPressed,  // the same under the finger
  kPressed,        // the face of a plain key under the finger
  kDone,           // state fills; shape comes first, these come second
  kOpen,
  kAttention,      // questioned, on hold
  kAttentionWash,  // ground of a banner that asks
  kDoneWash,       // ground of a banner that confirms
  kOnState,        // the sign inside kDone
  kOnAttention,    // the sign inside kAttention
  kCodeDark,       // modules of a code for a scanner: dark on light in both themes
  kCodeLight,      // its ground and quiet zone
  kCount
};

struct Palette {
  std::string_view name;
  std::array<std::uint32_t, static_cast<std::size_t>(Tone::kCount)> rgb;  // 0xRRGGBB
  [[nodiscard]] std::uint32_t operator[](Tone tone) const {
    return rgb[static_cast<std::size_t>(tone)];
  }
};

[[nodiscard]] const Palette& paper_palette();
[[nodiscard]] const Palette& dusk_palette();

// Contrast ratio of two colours, 1 to 21, by the relative luminance of WCAG 2.2.
[[nodiscard]] double contrast(std::uint32_t rgb_a, std::uint32_t rgb_b);

// Which tone is ever put on which, and the least contrast it needs: the widgets draw no other
// pairs, and the test walks this table.
struct TonePair {
  Tone front;
  Tone back;
  double at_least;
};
[[nodiscard]] std::span<const TonePair> tone_pairs();

enum class Font {
  kCaption,  // 3.0 mm capitals: stake numbers, legend ticks, units; never a sentence
  kBody,     // 3.5 mm
  kStrong,   // 3.5 mm, bold
  kLabel,    // 4.2 mm, bold: keys
  kFirm,     // 3.5 mm, bold, in large text too: what gives way there and was bold
  kHead,   // 5.4 mm, bold, in large text too: the title of a screen where a larger one has no room
  kTitle,  // 5.4 mm, bold
  kValue,  // 7.2 mm, bold: the value being entered
  kPlot,   // 12 mm, bold, digits and capitals only: the plot number
  kCount
};

enum class Hand { kRight, kLeft };

// What a person chose on the Tablet screen.
struct Look {
  bool dusk = false;
  bool gloves = false;      // keys 25 mm, gaps 4 mm
  bool large_text = false;  // body capitals 5 mm
  Hand hand = Hand::kRight;
  bool operator==(const Look&) const = default;
};

// The sizes of one look on one display.
class Sizes {
 public:
  Sizes(const Look& look, double ppi);
  [[nodiscard]] float mm(double millimetres) const;  // in pixels
  [[nodiscard]] double key_mm() const { return look_.gloves ? 25.0 : 20.0; }
  [[nodiscard]] double gap_mm() const { return look_.gloves ? 4.0 : 3.0; }
  [[nodiscard]] float key() const { return mm(key_mm()); }
  [[nodiscard]] float gap() const { return mm(gap_mm()); }
  [[nodiscard]] float least() const { return mm(kLeastMm); }  // nothing tappable is smaller
  [[nodiscard]] float border() const { return mm(0.5); }
  [[nodiscard]] double capital_mm(Font font) const;
  [[nodiscard]] std::vector<platform::FontRequest> fonts() const;  // by place = Font
  [[nodiscard]] double ppi() const { return ppi_; }

  static constexpr double kLeastMm = 12.0;
  static constexpr double kPrimaryMm = 20.0;

 private:
  Look look_;
  double ppi_;
};

}  // namespace ligule::touch
