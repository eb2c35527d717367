#include "app/touch/theme.h"

#include <cmath>

namespace ligule::touch {
namespace {

constexpr Palette kPaper{"paper",
                         {
                             0xF4EFE2,  // ground: unbleached paper
                             0xFFFDF6,  // card
                             0xE7E0CE,  // sunk
                             0x14201A,  // ink
                             0x36443C,  // soft ink
                             0x4C5A50,  // line
                             0x0B4F30,  // action
                             0xFFFDF6,  // on action
                             0x062C1B,  // action pressed
                             0xD8E6CE,  // pressed: a leaf held to the light
                             0x053A21,  // done
                             0xFFFDF6,  // open
                             0xAE7100,  // attention: ripe straw
                             0xFBE8BF,  // attention wash
                             0xDDEBD5,  // done wash
                             0xFFFDF6,  // on state
                             0x14201A,  // on attention
                             0x000000,  // code dark
                             0xFFFFFF,  // code light
                         }};

constexpr Palette kDusk{"dusk",
                        {
                            0x141814,  // ground
                            0x20261F,  // card
                            0x0C0F0C,  // sunk
                            0xF2ECDB,  // ink
                            0xC9C6B4,  // soft ink
                            0x8F9A8C,  // line
                            0x9ADBB0,  // action
                            0x0E1A12,  // on action
                            0xD3F5DD,  // action pressed
                            0x2A372C,  // pressed
                            0xB4F0C8,  // done
                            0x20261F,  // open
                            0xB56C10,  // attention
                            0x35260A,  // attention wash
                            0x1D3325,  // done wash
                            0x0E1A12,  // on state
                            0x0C0F0C,  // on attention
                            0x000000,  // code dark
                            0xFFFFFF,  // code light
                        }};

constexpr double kText = 7.0;   // WCAG 2.2, 1.4.6
constexpr double kShape = 3.0;  // WCAG 2.2, 1.4.11

constexpr TonePair kPairs[] = {
    {Tone::kInk, Tone::kGround, kText},
    {Tone::kInk, Tone::kCard, kText},
    {Tone::kInk, Tone::kSunk, kText},
    {Tone::kInk, Tone::kPressed, kText},
    {Tone::kInk, Tone::kAttentionWash, kText},
    {Tone::kInk, Tone::kDoneWash, kText},
    {Tone::kInkSoft, Tone::kGround, kText},
    {Tone::kInkSoft, Tone::kCard, kText},
    {Tone::kInkSoft, Tone::kSunk, kText},
    {Tone::kInkSoft, Tone::kPressed, kText},
    {Tone::kInkSoft, Tone::kAttentionWash, kText},
    {Tone::kInkSoft, Tone::kDoneWash, kText},
    {Tone::kAction, Tone::kGround, kText},
    {Tone::kAction, Tone::kCard, kText},
    {Tone::kAction, Tone::kSunk, kText},
    {Tone::kAction, Tone::kPressed, kText},
    {Tone::kAction, Tone::kAttentionWash, kText},
    {Tone::kAction, Tone::kDoneWash, kText},
    {Tone::kOnAction, Tone::kAction, kText},
    {Tone::kOnAction, Tone::kActionPressed, kText},
    {Tone::kLine, Tone::kGround, kShape},
    {Tone::kLine, Tone::kCard, kShape},
    {Tone::kLine, Tone::kSunk, kShape},
    {Tone::kLine, Tone::kPressed, kShape},
    {Tone::kLine, Tone::kAttentionWash, kShape},
    {Tone::kLine, Tone::kDoneWash, kShape},
    // States that can stand side by side.
    {Tone::kDone, Tone::kOpen, kShape},
    {Tone::kDone, Tone::kAttention, kShape},
    {Tone::kAttention, Tone::kOpen, kShape},
    // States on what they are drawn on, and the signs inside them.
    {Tone::kDone, Tone::kGround, kShape},
    {Tone::kDone, Tone::kCard, kShape},
    {Tone::kDone, Tone::kSunk, kShape},
    {Tone::kDone, Tone::kPressed, kShape},
    {Tone::kDone, Tone::kAttentionWash, kShape},
    {Tone::kAttention, Tone::kGround, kShape},
    {Tone::kAttention, Tone::kCard, kShape},
    {Tone::kAttention, Tone::kSunk, kShape},
    {Tone::kAttention, Tone::kPressed, kShape},
    {Tone::kAttention, Tone::kDoneWash, kShape},
    {Tone::kOnState, Tone::kDone, kShape},
    {Tone::kOnAttention, Tone::kAttention, kShape},
    {Tone::kCodeDark, Tone::kCodeLight, kText},
    {Tone::kDone, Tone::kDoneWash, kShape},
    {Tone::kAttention, Tone::kAttentionWash, kShape},
};

double linear(std::uint32_t byte) {
  const double c = static_cast<double>(byte & 0xFFU) / 255.0;
  return c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4);
}

double luminance(std::uint32_t rgb) {
  return 0.2126 * linear(rgb >> 16U) + 0.7152 * linear(rgb >> 8U) + 0.0722 * linear(rgb);
}

}  // namespace

const Palette& paper_palette() {
  return kPaper;
}
const Palette& dusk_palette() {
  return kDusk;
}

double contrast(std::uint32_t rgb_a, std::uint32_t rgb_b) {
  const double a = luminance(rgb_a) + 0.05;
  const double b = luminance(rgb_b) + 0.05;
  return a > b ? a / b : b / a;
}

std::span<const TonePair> tone_pairs() {
  return kPairs;
}

Sizes::Sizes(const Look& look, double ppi) : look_(look), ppi_(ppi) {}

float Sizes::mm(double millimetres) const {
  return static_cast<float>(millimetres * ppi_ / 25.4);
}

double Sizes::capital_mm(Font font) const {
  const bool large = look_.large_text;
  switch (font) {
    case Font::kCaption:
      return large ? 3.5 : 3.0;
    case Font::kBody:
    case Font::kStrong:
      return large ? 5.0 : 3.5;
    case Font::kLabel:
      return large ? 5.0 : 4.2;
    case Font::kFirm:
      return 3.5;
    case Font::kHead:
      return 5.4;
    case Font::kTitle:
      return large ? 6.2 : 5.4;
    case Font::kValue:
      return 7.2;
    case Font::kPlot:
    case Font::kCount:
      break;
  }
  return 12.0;
}

std::vector<platform::FontRequest> Sizes::fonts() const {
  std::vector<platform::FontRequest> requests;
  for (int n = 0; n < static_cast<int>(Font::kCount); ++n) {
    const auto font = static_cast<Font>(n);
    const bool bold = font != Font::kCaption && font != Font::kBody;
    requests.push_back({bold ? platform::Face::kBold : platform::Face::kRegular,
                        std::ceil(mm(capital_mm(font) / platform::kCapitalShare)),
                        font == Font::kPlot});
  }
  return requests;
}

}  // namespace ligule::touch
