#include "app/touch/text.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <utility>

namespace ligule::touch {
namespace {

constexpr std::string_view kEllipsis = "\xE2\x80\xA6";

float width_of(const ImFont& font, std::string_view text) {
  if (text.empty()) return 0;  // an empty view may point nowhere
  return font.CalcTextSizeA(font.FontSize, 1e9F, 0.0F, text.data(), text.data() + text.size()).x;
}

// Bytes of the UTF-8 letter at the front; 1 for a stray byte.
std::size_t letter_bytes(std::string_view text) {
  std::size_t n = 1;
  while (n < text.size() && (static_cast<unsigned char>(text[n]) & 0xC0U) == 0x80U) ++n;
  return n;
}

// How many bytes of `text` fit, at least one letter.
std::size_t fitting_bytes(const ImFont& font, std::string_view text, float width) {
  std::size_t fits = 0;
  while (fits < text.size()) {
    const std::size_t next = fits + letter_bytes(text.substr(fits));
    if (fits > 0 && width_of(font, text.substr(0, next)) > width) break;
    fits = next;
  }
  return fits;
}

// Where to break a word of which only `fitting` fits: after its last hyphen or stroke (a file's
// name), else anywhere.
std::size_t inside_word(std::string_view fitting) {
  const std::size_t joint = fitting.find_last_of("-/_");
  return joint == std::string_view::npos ? fitting.size() : joint + 1;
}

// The first line of one paragraph; `rest` is what follows it.
std::string_view first_line(const ImFont& font, std::string_view text, float width,
                            std::string_view& rest) {
  if (width_of(font, text) <= width) {
    rest = {};
    return text;
  }
  std::size_t end = 0;
  for (std::size_t space = text.find(' '); space != std::string_view::npos;
       space = text.find(' ', space + 1)) {
    if (width_of(font, text.substr(0, space)) > width) break;
    end = space;
  }
  if (end == 0) {
    end = inside_word(text.substr(0, fitting_bytes(font, text, width)));
    rest = text.substr(end);
    return text.substr(0, end);
  }
  rest = text.substr(end + 1);
  return text.substr(0, end);
}

std::pmr::string shortened(const Ui& ui, const ImFont& font, std::string_view text, float width) {
  const float dots = width_of(font, kEllipsis);
  std::size_t keep = fitting_bytes(font, text, std::max(1.0F, width - dots));
  while (keep > 0 && text[keep - 1] == ' ') --keep;
  std::pmr::string out(text.substr(0, keep), ui.frame_memory());
  out += kEllipsis;
  return out;
}

// Whether a line begins inside a word. Names of files and the like have to be broken somewhere.
bool breaks_a_word(std::string_view whole, std::string_view line) {
  constexpr std::size_t kLongestWord = 20;  // bytes
  const auto at = static_cast<std::size_t>(line.data() - whole.data());
  const auto ends = [](char c) { return c == ' ' || c == '\n'; };
  if (at == 0 || at >= whole.size() || ends(whole[at - 1]) || ends(whole[at])) return false;
  if (whole[at - 1] == '-') return false;  // a code at its joint
  const std::size_t before = whole.find_last_of(" \n", at);
  const std::size_t from = before == std::string_view::npos ? 0 : before + 1;
  return std::min(whole.find_first_of(" \n", at), whole.size()) - from <= kLongestWord;
}

// Where capitals stand inside a line box.
struct Capitals {
  float top;
  float bottom;
};
Capitals capitals(const ImFont& font) {
  const ImFontGlyph* glyph = font.FindGlyph('H');
  return {glyph->Y0, glyph->Y1};
}

}  // namespace

float text_width(const Ui& ui, std::string_view text, Font font) {
  return width_of(*ui.font(font), text);
}

float line_height(const Ui& ui, Font font) {
  return std::ceil(ui.font(font)->FontSize * 1.04F);
}

std::pmr::vector<std::string_view> wrap(const Ui& ui, std::string_view text, Font font,
                                        float width) {
  const ImFont& letters = *ui.font(font);
  std::pmr::vector<std::string_view> lines(ui.frame_memory());
  while (true) {
    const std::size_t end = text.find('\n');
    std::string_view paragraph = text.substr(0, end);
    do {
      std::string_view rest;
      lines.push_back(first_line(letters, paragraph, width, rest));
      paragraph = rest;
    } while (!paragraph.empty());
    if (end == std::string_view::npos) return lines;
    text.remove_prefix(end + 1);
  }
}

float text_height(const Ui& ui, std::string_view text, Font font, float width) {
  return static_cast<float>(wrap(ui, text, font, width).size()) * line_height(ui, font);
}

namespace {

// The lines of a text in one type, in the memory of the frame.
struct Laid {
  std::pmr::vector<std::pmr::string> lines;
  bool cut = false;
};

Laid lay(const Ui& ui, const Rect& rect, const Text& text, Font font) {
  const ImFont& letters = *ui.font(font);
  const float step = line_height(ui, font);
  const auto wrapped = wrap(ui, text.text, font, rect.width());
  // A line may stand in a strip as low as its capitals and a little air.
  const Capitals caps = capitals(letters);
  const float room = rect.height() + step - (caps.bottom - caps.top) * 1.3F;
  const auto fits = static_cast<std::size_t>(std::max(1.0F, std::floor(room / step)));
  const std::size_t allowed = std::min(static_cast<std::size_t>(std::max(1, text.lines)), fits);
  Laid laid{.lines = std::pmr::vector<std::pmr::string>(ui.frame_memory())};
  laid.lines.reserve(std::min(allowed, wrapped.size()));
  laid.cut = wrapped.size() > allowed || room < step;
  for (std::size_t i = 0; i < std::min(allowed, wrapped.size()); ++i)
    laid.lines.emplace_back(wrapped[i]);
  if (wrapped.size() > allowed) {
    const std::size_t from =
        static_cast<std::size_t>(wrapped[allowed - 1].data() - text.text.data());
    laid.lines.back() = shortened(ui, letters, text.text.substr(from), rect.width());
  } else if (width_of(letters, laid.lines.back()) > rect.width() + 0.5F) {
    laid.cut = true;
  }
  for (const std::string_view line : wrapped) laid.cut = laid.cut || breaks_a_word(text.text, line);
  return laid;
}

// Large text is for reading: where it has no room its words stand in the usual size (3.5 mm
// capitals and more) rather than cut. Without large text nothing is smaller than it was asked for.
std::pair<Font, Laid> lay_whole(const Ui& ui, const Rect& rect, const Text& text) {
  Laid laid = lay(ui, rect, text, text.font);
  if (!ui.look().large_text || text.font == Font::kHead) return {text.font, std::move(laid)};
  // What is bold stays so as long as it can.
  const bool bold = text.font != Font::kBody && text.font != Font::kCaption;
  const Font middle = bold ? Font::kStrong : Font::kBody;
  for (const Font font : {middle, bold ? Font::kFirm : middle, Font::kCaption}) {
    if (!laid.cut) break;
    if (ui.sizes().capital_mm(font) > ui.sizes().capital_mm(text.font) - 0.01) continue;
    Laid smaller = lay(ui, rect, text, font);
    if (!smaller.cut) return {font, std::move(smaller)};
  }
  return {text.font, std::move(laid)};
}

}  // namespace

float text(Ui& ui, const Rect& rect, const Text& text) {
  if (text.text.empty()) return 0;
  if (rect.empty()) {
    ui.no_room(text.text);
    return 0;
  }
  auto [font, laid] = lay_whole(ui, rect, text);
  if (const Font common = ui.common_size(text.font, font, text.in_key); common != font) {
    font = common;
    laid = lay(ui, rect, text, font);
  }
  const auto& lines = laid.lines;
  const bool cut = laid.cut;
  const ImFont& letters = *ui.font(font);
  const float step = line_height(ui, font);
  const Capitals caps = capitals(letters);

  const float block = step * static_cast<float>(lines.size() - 1);
  float top = rect.top;
  if (text.down == Align::kMiddle)
    top = rect.centre().y - (block + caps.top + caps.bottom) / 2;
  else if (text.down == Align::kEnd)
    top = rect.bottom - block - step;
  top = std::round(top);

  Rect drawn{rect.right, top, rect.left, top + block + letters.FontSize};
  const std::uint32_t rgb = ui.palette()[text.tone];
  const ImU32 colour = IM_COL32((rgb >> 16U) & 0xFFU, (rgb >> 8U) & 0xFFU, rgb & 0xFFU, 0xFFU);
  std::pmr::string shown(ui.frame_memory());
  for (std::size_t i = 0; i < lines.size(); ++i) {
    const std::string_view line = lines[i];
    const float width = width_of(letters, line);
    float left = rect.left;
    if (text.across == Align::kMiddle) left = rect.centre().x - width / 2;
    if (text.across == Align::kEnd) left = rect.right - width;
    left = std::round(left);
    ImGui::GetWindowDrawList()->AddText(&letters, letters.FontSize,
                                        {left, top + step * static_cast<float>(i)}, colour,
                                        line.data(), line.data() + line.size());
    drawn.left = std::min(drawn.left, left);
    drawn.right = std::max(drawn.right, left + width);
    if (i > 0) shown += ' ';
    shown += line;
  }
  if (text.in_key && (!cut || text.may_cut)) return block + step;
  Widget widget;
  widget.kind = Kind::kText;
  widget.label = cut ? std::string_view(shown) : text.text;
  // What counts as inside the window is the ink of capitals, not the empty top of the line box.
  drawn.top += caps.top;
  drawn.bottom = std::max(drawn.top + 1, drawn.bottom - (letters.FontSize - caps.bottom) / 2);
  widget.drawn = drawn;
  widget.cut = cut && !text.may_cut;
  if (text.value) widget.value_mm = ui.sizes().capital_mm(font);
  ui.enter(std::move(widget));
  return block + step;
}

}  // namespace ligule::touch
