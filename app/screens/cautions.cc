// Cautions over the screen they belong to until somebody has read them, and all of them on a page.
#include <algorithm>
#include <vector>

#include "app/screens/pen.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Style;

namespace {

std::string title_key(const std::string& code) {
  return "caution_title." + code;
}

float height_of(const Pen& pen, const std::string& code, float width) {
  const touch::Ui& ui = pen.ui;
  return touch::text_height(ui, pen.words(title_key(code)), Font::kLabel, width) +
         touch::text_height(ui, pen.words("caution." + code), Font::kBody, width) + ui.mm(1);
}

float sign_room(const touch::Ui& ui) {
  return ui.mm(10);
}

void draw_one(const Pen& pen, const Rect& rect, const std::string& code) {
  touch::Ui& ui = pen.ui;
  const float sign = ui.mm(7);
  ui.canvas().shape(Shape::kQuestioned, {rect.left, rect.top, rect.left + sign, rect.top + sign});
  Cutter down({rect.left + sign_room(ui), rect.top, rect.right, rect.bottom}, Axis::kDown,
              ui.mm(1));
  const float width = down.rest().width();
  const std::string_view title = pen.words(title_key(code));
  touch::text(ui, down.take(touch::text_height(ui, title, Font::kLabel, width)),
              {.text = title, .font = Font::kLabel, .down = Align::kStart, .lines = 3});
  touch::text(ui, down.take_rest(),
              {.text = pen.words("caution." + code), .down = Align::kStart, .lines = 20});
}

float list_height(const Pen& pen, const std::vector<std::string>& codes, float width) {
  float height = 0;
  for (const std::string& code : codes)
    height += height_of(pen, code, width - sign_room(pen.ui)) + pen.ui.mm(4);
  return height;
}

void draw_list(const Pen& pen, const Rect& area, const std::vector<std::string>& codes) {
  Cutter down(area, Axis::kDown, pen.ui.mm(4));
  for (const std::string& code : codes)
    draw_one(pen, down.take(height_of(pen, code, area.width() - sign_room(pen.ui))), code);
}

}  // namespace

void draw_cautions_page(const Pen& pen, const Rect& rect, const std::vector<std::string>& codes) {
  auto scroll = pen.ui.scroll("cautions", rect);
  draw_list(pen, scroll.area(), codes);
}

void draw_cautions(const Pen& pen, const flow::CautionsView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Cautions");
  const float margin = ui.mm(5);
  const Rect page = ui.page();
  const float width = std::min(page.width(), ui.mm(ui.portrait() ? 130 : 170));
  const float inner = width - 2 * margin;
  const float title = touch::line_height(ui, Font::kTitle);
  const float around = 2 * margin + ui.mm(2) + title + ui.key() + 2 * ui.mm(4);
  // A scrolled list gives some width to its bar.
  const float list = list_height(pen, view.codes, inner - ui.mm(6));
  const Rect card = touch::centred(ui.window_rect(), width, std::min(page.height(), around + list));
  auto panel = touch::card(ui, card, "Cautions");
  Rect room = card.grown(-margin);
  room.top += ui.mm(2);
  Cutter down(room, Axis::kDown, ui.mm(4));
  touch::text(ui, down.take(title), {.text = pen.words("cautions.title"), .font = Font::kTitle});
  if (touch::key(ui, down.take_end(ui.key()),
                 {.label = pen.words("caution.read"), .style = Style::kAction}))
    pen.send(flow::ReadCautions{});
  draw_cautions_page(pen, down.take_rest(), view.codes);
}

}  // namespace ligule::screens
