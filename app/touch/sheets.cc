#include "app/touch/sheets.h"

#include <imgui.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>

#include "app/touch/body.h"

namespace ligule::touch {

Rect sheet(Ui& ui, const Rect& rect) {
  if (rect.empty()) return rect;
  ui.canvas().fill(rect, Tone::kCard, ui.mm(3));
  ui.canvas().outline(rect, Tone::kSunk, ui.sizes().border(), ui.mm(3));
  return rect.grown(-ui.mm(4));
}

bool sheet_part(Ui& ui, const Rect& rect, std::string_view label) {
  if (rect.empty()) return false;
  // The key beside it answers a little way out.
  const Rect inside = rect.grown(-ui.halo());
  Widget part;
  part.kind = Kind::kSheet;
  part.drawn = inside;
  const TouchState state = ui.touch(label, std::move(part), 0);
  if (state.held) ui.canvas().fill(inside, Tone::kPressed, ui.mm(2));
  return state.tapped;
}

float head_height(const Ui& ui) {
  return std::max(ui.mm(16), line_height(ui, Font::kTitle) + line_height(ui, Font::kBody));
}

namespace {

// Two lines of a title stand in a strip a little lower than they are: it has air above and below.
bool takes_two_lines(const Ui& ui, float height) {
  const float capitals = ui.mm(ui.sizes().capital_mm(Font::kHead));
  return height >= line_height(ui, Font::kHead) + capitals * 1.32F;
}

struct TitleForm {
  Font font;
  int lines;
};
// Large text gives way to the usual size, one line to two; never to less than that.
TitleForm title_form(const Ui& ui, std::string_view title, const Rect& words) {
  for (const Font font : {Font::kTitle, Font::kHead})
    if (text_width(ui, title, font) <= words.width()) return {font, 1};
  return {Font::kHead, takes_two_lines(ui, words.height()) ? 2 : 1};
}

}  // namespace

float least_title_width(const Ui& ui, std::string_view title, float height) {
  const float whole = text_width(ui, title, Font::kHead) + 1;
  if (!takes_two_lines(ui, height)) return whole;
  float least = whole;
  for (std::size_t at = title.find(' '); at != std::string_view::npos; at = title.find(' ', at + 1))
    least = std::min(least, std::max(text_width(ui, title.substr(0, at), Font::kHead),
                                     text_width(ui, title.substr(at + 1), Font::kHead)) +
                                1);
  return least;
}

bool head(Ui& ui, const Rect& rect, const Head& head) {
  bool back = false;
  Cutter across(rect, Axis::kAcross, ui.mm(4));
  if (!head.back.empty()) {
    Key out{.label = head.back, .style = Style::kQuiet};
    out.paint = back_sign();
    out.icon_only = true;
    back = key(ui, across.take(std::min(ui.mm(20), rect.height() * 1.2F)), out);
  }
  const Rect words = across.take_rest();
  const TitleForm form = title_form(ui, head.title, words);
  if (head.note.empty() || form.lines > 1) {
    text(ui, words, {.text = head.title, .font = form.font, .lines = form.lines});
    return back;
  }
  const float upper = line_height(ui, form.font);
  const float block = upper + line_height(ui, Font::kBody);
  const float top = words.centre().y - block / 2;
  text(ui, {words.left, top, words.right, top + upper}, {.text = head.title, .font = form.font});
  text(ui, {words.left, top + upper, words.right, top + block},
       {.text = head.note, .tone = Tone::kInkSoft, .may_cut = head.note_may_cut});
  return back;
}

namespace {

constexpr double kBannerMarginMm = 2.6;
constexpr double kBannerSignMm = 9;

Tone wash(Mood mood) {
  if (mood == Mood::kAsk) return Tone::kAttentionWash;
  return mood == Mood::kDone ? Tone::kDoneWash : Tone::kSunk;
}
Tone mark(Mood mood) {
  if (mood == Mood::kAsk) return Tone::kAttention;
  return mood == Mood::kDone ? Tone::kDone : Tone::kLine;
}

}  // namespace

float banner_height(const Ui& ui, const Banner& banner, float width) {
  const float sign = banner.shape ? ui.mm(kBannerSignMm + 3) : 0;
  const float room = width - sign - ui.mm(2 * kBannerMarginMm + 3);
  return std::max(ui.mm(kBannerSignMm), text_height(ui, banner.text, Font::kBody, room)) +
         ui.mm(2 * kBannerMarginMm);
}

void banner(Ui& ui, const Rect& rect, const Banner& banner) {
  if (rect.empty()) {
    ui.no_room(banner.text);
    return;
  }
  const Canvas paint = ui.canvas();
  paint.fill(rect, wash(banner.mood), ui.mm(2));
  paint.band({rect.left, rect.top, rect.left + ui.mm(2), rect.bottom}, mark(banner.mood), ui.mm(2),
             Canvas::Side::kLeft);
  Rect room = rect.grown(-ui.mm(kBannerMarginMm));
  room.left += ui.mm(2.4);
  Cutter across(room, Axis::kAcross, ui.mm(3));
  if (banner.shape) {
    const Rect at = across.take(ui.mm(kBannerSignMm));
    paint.shape(*banner.shape, centred(at, ui.mm(kBannerSignMm), ui.mm(kBannerSignMm)));
  }
  text(ui, across.take_rest(), {.text = banner.text, .lines = 16});
}

void progress(Ui& ui, const Rect& rect, double share, std::string_view text_beside) {
  Cutter across(rect, Axis::kAcross, ui.mm(3));
  const float width = text_width(ui, text_beside, Font::kStrong) + 1;
  text(ui, across.take_end(width), {.text = text_beside, .font = Font::kStrong});
  const Rect room = across.take_rest();
  if (room.empty()) return;
  const Rect bar{room.left, room.centre().y - ui.mm(1.8), room.right, room.centre().y + ui.mm(1.8)};
  const Canvas paint = ui.canvas();
  paint.fill(bar, Tone::kLine, bar.height() / 2);
  const Rect inside = bar.grown(-ui.sizes().border());
  paint.fill(inside, Tone::kSunk, inside.height() / 2);
  const auto part = static_cast<float>(std::clamp(share, 0.0, 1.0));
  if (part <= 0) return;
  const float length = std::max(inside.height(), inside.width() * part);
  paint.fill({inside.left, inside.top, inside.left + length, inside.bottom}, Tone::kDone,
             inside.height() / 2);
}

namespace {

// Answers side by side when each keeps its words on a line or two, else one under the other.
bool side_by_side(const Ui& ui, const Question& question, float width) {
  const std::size_t n = question.answers.size();
  if (n > 3) return false;
  const float each =
      (width - ui.gap() * static_cast<float>(n - 1)) / static_cast<float>(n) - ui.mm(6);
  return std::ranges::all_of(question.answers, [&](const Key& answer) {
    return text_width(ui, label_of(answer.label), Font::kLabel) <= each * 1.6F &&
           each >= ui.mm(30) &&
           (answer.note.empty() || text_width(ui, answer.note, Font::kBody) <= each * 2);
  });
}

void dim(const Ui& ui) {
  const Rect all = ui.window_rect();
  const std::uint32_t rgb = paper_palette()[Tone::kInk];
  ImGui::GetWindowDrawList()->AddRectFilled(
      {all.left, all.top}, {all.right, all.bottom},
      IM_COL32((rgb >> 16U) & 0xFFU, (rgb >> 8U) & 0xFFU, rgb & 0xFFU, 150));
}

// What the words of a question are set in: large text gives way to the usual size where the
// answers would else lose their 12 mm.
struct Types {
  Font title;
  Font body;
};
Types types_of(const Ui& ui, const Question& question, float words, float around, bool beside) {
  const Types large{Font::kTitle, Font::kBody};
  if (!ui.look().large_text) return large;
  const auto rows = static_cast<float>(beside ? 1 : question.answers.size());
  const float needed = around + text_height(ui, question.title, large.title, words) + ui.mm(2) +
                       text_height(ui, question.text, large.body, words) +
                       rows * (ui.sizes().least() + ui.gap());
  return needed <= ui.page().height() ? large : Types{Font::kBody, Font::kCaption};
}

}  // namespace

Ui::Panel card(Ui& ui, const Rect& rect, std::string_view title, Mood mood) {
  dim(ui);
  const Canvas paint = ui.canvas();
  paint.fill(rect, Tone::kCard, ui.mm(3));
  paint.outline(rect, Tone::kLine, ui.sizes().border(), ui.mm(3));
  paint.band({rect.left, rect.top, rect.right, rect.top + ui.mm(3)}, mark(mood), ui.mm(3),
             Canvas::Side::kTop);
  return ui.panel(rect, title);
}

std::optional<std::size_t> question(Ui& ui, const Question& question) {
  const float margin = ui.mm(5);
  const float width = std::min(ui.page().width(), ui.mm(ui.portrait() ? 120 : 150));
  const float inner = width - 2 * margin;
  const float sign = ui.mm(13);
  const float words = inner - sign - ui.mm(4);
  const bool beside = side_by_side(ui, question, inner);
  const float around = 2 * margin + ui.mm(2) + ui.mm(5);
  const Types types = types_of(ui, question, words, around, beside);
  const float title_height = text_height(ui, question.title, types.title, words);
  const float text_tall = text_height(ui, question.text, types.body, words);
  const std::size_t rows = beside ? 1 : question.answers.size();
  const auto count = static_cast<float>(rows);
  const float upper = std::max(sign, title_height + ui.mm(2) + text_tall);
  const float free = ui.page().height() - around - upper - ui.gap() * (count - 1);
  // Answers are full keys; only when many stand in low glass do they shrink, never under 12 mm.
  const float each = std::clamp(free / count, ui.sizes().least(), ui.key());
  const Rect place =
      centred(ui.window_rect(), width, around + upper + each * count + ui.gap() * (count - 1));
  auto panel = card(ui, place, question.title, question.mood);
  auto group = ui.group(label_of(question.title));
  const Canvas paint = ui.canvas();
  Rect room = place.grown(-margin);
  room.top += ui.mm(2);
  Cutter down(room, Axis::kDown, ui.mm(5));
  const Rect top = down.take(upper);
  Shape shape = Shape::kNow;
  if (question.mood == Mood::kAsk) shape = Shape::kQuestioned;
  if (question.mood == Mood::kDone) shape = Shape::kDone;
  paint.shape(shape, {top.left, top.top, top.left + sign, top.top + sign});
  Cutter words_down({top.left + sign + ui.mm(4), top.top, top.right, top.bottom}, Axis::kDown,
                    ui.mm(2));
  text(ui, words_down.take(title_height),
       {.text = question.title, .font = types.title, .down = Align::kStart, .lines = 4});
  text(ui, words_down.take_rest(),
       {.text = question.text, .font = types.body, .down = Align::kStart, .lines = 12});

  const auto places = split(down.take_rest(), beside ? Axis::kAcross : Axis::kDown,
                            question.answers.size(), ui.gap());
  std::optional<std::size_t> answer;
  for (std::size_t n = 0; n < question.answers.size(); ++n)
    if (key(ui, places[n], question.answers[n])) answer = n;
  return answer;
}

}  // namespace ligule::touch
