// Why something was refused, or what came of it: where the screen has room for it, else on a card.
#include <algorithm>
#include <utility>

#include "app/screens/pen.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Tone;

namespace {

// What went wrong, how to mend it, and where: all of it.
std::string error_words(const Pen& pen, const Error& error) {
  Error words = error;
  words.where.clear();
  return pen.words.error(words) + " " + error.where;
}

Shape sign_of(const flow::NoticeView& notice) {
  return notice.good ? Shape::kDone : Shape::kQuestioned;
}

// Whether a text stands whole in a room; large words may stand in the usual size.
bool stands(const touch::Ui& ui, std::string_view text, float width, float height) {
  const Font font = ui.look().large_text ? Font::kCaption : Font::kBody;
  const float air = touch::line_height(ui, font) - ui.mm(ui.sizes().capital_mm(font) * 1.32);
  return touch::text_height(ui, text, font, width) - air <= height;
}

}  // namespace

bool has_notice(const Pen& pen) {
  return pen.notice.has_value();
}

void draw_notice(const Pen& pen, const Rect& rect) {
  if (!pen.notice) return;
  touch::Ui& ui = pen.ui;
  std::string text = pen.words.fill(pen.notice->text);
  if (pen.notice->error) text += " " + error_words(pen, *pen.notice->error);
  Rect room = rect.grown(-ui.mm(0.9));
  room.left += ui.mm(2.6);
  Cutter across(room, Axis::kAcross, ui.mm(2.4));
  const float side = std::min(ui.mm(8), room.height());
  if (!stands(ui, text, room.width(), room.height())) {
    pen.scratch.notice_on_card = true;
    return;
  }
  // It may lie over keys: a tap on it puts it away and enters nothing.
  touch::Key away{.label = pen.words("notice.read")};
  away.paint = [](const touch::Canvas&, const Rect&) {};
  away.icon_only = true;
  if (touch::key(ui, rect, away)) pen.send(flow::DismissNotice{});
  const bool good = pen.notice->good;
  const touch::Canvas paint = ui.canvas();
  paint.fill(rect, good ? Tone::kDone : Tone::kAttention, ui.mm(2));
  paint.fill({rect.left + ui.mm(1.6), rect.top, rect.right, rect.bottom},
             good ? Tone::kDoneWash : Tone::kAttentionWash, ui.mm(2));
  // Words come before the sign: the bar beside them is of its colour.
  if (stands(ui, text, room.width() - side - ui.mm(2.4), room.height()))
    paint.shape(sign_of(*pen.notice), touch::centred(across.take(side), side, side));
  touch::text(ui, across.take_rest(), {.text = text, .lines = 6});
}

void draw_notice_card(const Pen& pen) {
  const bool wanted = std::exchange(pen.scratch.notice_on_card, false);
  if (!wanted || !pen.notice) return;
  touch::Ui& ui = pen.ui;
  const std::string title = pen.words.fill(pen.notice->text);
  const std::string text = pen.notice->error ? error_words(pen, *pen.notice->error) : "";
  const float margin = ui.mm(5);
  const float width = std::min(ui.page().width(), ui.mm(150));
  const float inner = width - 2 * margin;
  const float sign = ui.mm(13);
  const float beside = inner - sign - ui.mm(4);
  const Font head = ui.look().large_text ? Font::kStrong : Font::kLabel;
  const float upper = std::max(sign, touch::text_height(ui, title, head, beside));
  const float words = text.empty() ? 0 : touch::text_height(ui, text, Font::kBody, inner) + 1;
  const float between = ui.mm(4);
  const float key = ui.mm(16);
  const float height = 2 * margin + upper + between + words + between + key;
  const Rect place = touch::centred(ui.page(), width, height);
  auto panel = touch::card(ui, place, title);
  auto group = ui.group("Notice");
  Cutter down(place.grown(-margin), Axis::kDown, between);
  Cutter top(down.take(upper), Axis::kAcross, ui.mm(4));
  ui.canvas().shape(sign_of(*pen.notice), touch::centred(top.take(sign), sign, sign));
  touch::text(ui, top.take_rest(), {.text = title, .font = head, .lines = 6});
  if (touch::key(ui, down.take_end(key), {.label = pen.words("notice.read")}))
    pen.send(flow::DismissNotice{});
  if (text.empty()) return;
  // Longer than low glass is high: it is dragged.
  auto scroll = ui.scroll("notice", down.take_rest());
  const Rect& area = scroll.area();
  const float tall = touch::text_height(ui, text, Font::kBody, area.width());
  touch::text(ui, {area.left, area.top, area.right, area.top + tall + 1},
              {.text = text, .down = touch::Align::kStart, .lines = 400});
}

}  // namespace ligule::screens
