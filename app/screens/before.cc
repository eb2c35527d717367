#include "app/screens/before.h"

#include "app/touch/touch.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;

namespace {

void before_paragraph(touch::Ui& ui, Cutter& rows, const std::string& text, Font font) {
  const float height = touch::text_height(ui, text, font, rows.rest().width());
  touch::text(ui, rows.take(height),
              {.text = text, .font = font, .down = Align::kStart, .lines = 40});
}

}  // namespace

BeforePage older_page(const Language& words, std::int64_t records, const std::string& copy) {
  return {std::string(words("older.title")),
          words.count("older.kept", records),
          true,
          {std::string(words("older.what")), words.fill("older.copy", {copy}),
           std::string(words("older.back"))},
          {std::string(words("older.go_on")), std::string(words("older.not_now"))}};
}

BeforePage closed_page(const Language& words, const Error& error) {
  BeforePage page{std::string(words("closed.title")), words.error(error), false, {}, {}};
  if (error.kind == ErrorKind::kNewerVersion) page.texts.emplace_back(words("closed.newer"));
  page.texts.emplace_back(words("closed.nothing_changed"));
  page.keys.emplace_back(words("closed.close"));
  return page;
}

std::optional<std::size_t> draw_before(touch::Ui& ui, const BeforePage& page) {
  auto group = ui.group("Before");
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  std::optional<std::size_t> tapped;
  const auto places =
      touch::split(down.take_end(ui.key()), Axis::kAcross, page.keys.size(), ui.gap());
  for (std::size_t n = 0; n < page.keys.size(); ++n) {
    touch::Key key{.label = page.keys[n]};
    if (n == 0) key.style = touch::Style::kAction;
    if (touch::key(ui, places[n], key)) tapped = n;
  }
  auto scroll = ui.scroll("before", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.mm(4));
  before_paragraph(ui, rows, page.title, Font::kHead);
  const touch::Banner first{.text = page.first,
                            .mood = page.good ? touch::Mood::kDone : touch::Mood::kAsk,
                            .shape = page.good ? touch::Shape::kDone : touch::Shape::kQuestioned};
  touch::banner(ui, rows.take(touch::banner_height(ui, first, rows.rest().width())), first);
  for (const std::string& text : page.texts) before_paragraph(ui, rows, text, Font::kBody);
  return tapped;
}

}  // namespace ligule::screens
