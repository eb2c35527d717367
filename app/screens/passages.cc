#include "app/screens/passages.h"

namespace ligule::screens {
namespace {

float air(const Pen& pen) {
  return pen.ui.mm(1);
}

}  // namespace

float passages_height(const Pen& pen, std::span<const Passage> passages, float width) {
  float height = 0;
  for (const Passage& passage : passages)
    height += touch::text_height(pen.ui, passage.text, passage.font, width) + air(pen);
  return height == 0 ? 0 : height - air(pen);
}

void draw_passages(const Pen& pen, touch::Rect rect, std::span<const Passage> passages) {
  touch::Cutter down(rect, touch::Axis::kDown, air(pen));
  for (const Passage& passage : passages) {
    const auto lines =
        static_cast<int>(touch::wrap(pen.ui, passage.text, passage.font, rect.width()).size());
    touch::text(pen.ui,
                down.take(touch::text_height(pen.ui, passage.text, passage.font, rect.width())),
                {.text = passage.text, .font = passage.font, .tone = passage.tone, .lines = lines});
  }
}

void draw_apart(const Pen& pen, touch::Cutter& down, std::span<const Passage> passages) {
  for (std::size_t n = 0; n < passages.size(); ++n) {
    const auto one = passages.subspan(n, 1);
    draw_passages(pen, down.take(passages_height(pen, one, down.rest().width())), one);
  }
}

}  // namespace ligule::screens
