// Questions: what was asked about in an occasion, one value after the other, until none is left.
#include <algorithm>

#include "app/screens/pen.h"
#include "app/screens/review_parts.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Style;
using touch::Tone;

namespace {

constexpr double kCellWide = 19;  // mm; of a plot beside
constexpr double kCellHigh = 17;

std::string shown(const Pen& pen, const flow::ClaimView& claim) {
  std::string text =
      claim.word.empty() ? shown_code(pen, claim.shown) : std::string(pen.words(claim.word));
  if (text.empty()) text = pen.words("mark." + std::string(flow::name_of(claim.mark)));
  if (claim.said.empty()) return text;
  return pen.words.fill("history.said", {text, std::string(pen.words(claim.said))});
}

float paragraph(const Pen& pen, const Rect& area, float top, std::string_view text, Font font,
                Tone tone) {
  touch::Ui& ui = pen.ui;
  const float height = touch::text_height(ui, text, font, area.width());
  touch::text(ui, {area.left, top, area.right, top + height},
              {.text = text, .font = font, .tone = tone, .down = Align::kStart, .lines = 9});
  return top + height + ui.mm(1.5);
}

// A plot beside it: its number over its value.
void draw_cell(const Pen& pen, const Rect& rect, const flow::NeighbourView& plot) {
  touch::Ui& ui = pen.ui;
  (void)touch::sheet(ui, rect);
  if (plot.here) ui.canvas().outline(rect, Tone::kInk, ui.mm(0.8), ui.mm(1.5));
  Cutter down(rect.grown(-ui.mm(1.5)), Axis::kDown, 0);
  touch::text(ui, down.take(touch::line_height(ui, Font::kCaption)),
              {.text = plot.plot,
               .font = Font::kCaption,
               .tone = Tone::kInkSoft,
               .across = Align::kMiddle});
  const Rect low = down.take_rest();
  if (plot.shown.empty()) {
    const float side = std::min(low.height(), ui.mm(6));
    const float left = (low.left + low.right - side) / 2;
    const float top = (low.top + low.bottom - side) / 2;
    return ui.canvas().shape(shape_of(plot.mark), {left, top, left + side, top + side});
  }
  const std::string text = shown_code(pen, plot.shown);
  touch::text(ui, low,
              {.text = text,
               .font = plot.here ? Font::kStrong : Font::kBody,
               .across = Align::kMiddle,
               .lines = 2,
               .may_cut = true});
}

float draw_beside(const Pen& pen, const Rect& area, float top,
                  const std::vector<flow::NeighbourView>& plots, bool across) {
  touch::Ui& ui = pen.ui;
  std::vector<const flow::NeighbourView*> wanted;
  for (const flow::NeighbourView& plot : plots)
    if (plot.across == across) wanted.push_back(&plot);
  if (wanted.empty()) return top;
  top = paragraph(pen, area, top, pen.words(across ? "questions.across" : "questions.beside"),
                  Font::kBody, Tone::kInkSoft);
  const float gap = ui.mm(1.5);
  const auto count = static_cast<float>(std::max<std::size_t>(wanted.size(), 5));
  const float wide = std::min((area.width() - gap * (count - 1)) / count, ui.mm(kCellWide) * 1.4F);
  float left = area.left;
  for (const flow::NeighbourView* const plot : wanted) {
    draw_cell(pen, {left, top, left + wide, top + ui.mm(kCellHigh)}, *plot);
    left += wide + gap;
  }
  return top + ui.mm(kCellHigh) + ui.mm(2.5);
}

// What stands, who gave it, what was asked and answered, and what lies beside it.
void draw_words(const Pen& pen, const Rect& rect, const flow::QuestionsView& view) {
  touch::Ui& ui = pen.ui;
  auto scroll = ui.scroll("question", rect);
  const Rect& area = scroll.area();
  float top =
      paragraph(pen, area, area.top,
                pen.words.fill("questions.value", {view.plot, measure_name(pen, view.measure)}),
                Font::kTitle, Tone::kInk);
  top = paragraph(pen, area, top, shown(pen, view.claim), Font::kValue, Tone::kInk);
  const std::string who =
      view.claim.who.empty() ? std::string(pen.words("mend.nobody")) : view.claim.who;
  top = paragraph(pen, area, top,
                  pen.words.fill("history.when", {view.claim.date + " " + view.claim.clock, who}),
                  Font::kBody, Tone::kInkSoft);
  for (const flow::AskedView& asked : view.asked)
    top = paragraph(pen, area, top,
                    pen.words.fill("history.asked", {words_or(pen, "asked.", asked.rule),
                                                     words_or(pen, "phrase.", asked.answer)}),
                    Font::kStrong, Tone::kInk);
  if (view.claim.mark == flow::Mark::kOnHold)
    top = paragraph(pen, area, top, pen.words("history.on_hold"), Font::kBody, Tone::kInk);
  if (view.reasons.empty())
    top = paragraph(pen, area, top, pen.words("history.conflict"), Font::kBody, Tone::kInk);
  top = draw_beside(pen, area, top + ui.mm(1.5), view.beside, false);
  (void)draw_beside(pen, area, top, view.beside, true);
}

// To the questions before and after this one.
void draw_ways(const Pen& pen, const Rect& rect, const flow::QuestionsView& view) {
  touch::Ui& ui = pen.ui;
  const auto ways = touch::split(rect, Axis::kAcross, 2, ui.gap());
  const auto go = [&](const Rect& at, std::string_view word, const std::optional<RecordId>& to) {
    const touch::Key key{
        .label = pen.words(word), .enabled = to.has_value(), .font = Font::kStrong};
    if (touch::key(ui, at, key) && to) pen.send(flow::ShowQuestion{*to});
  };
  go(ways[0], "questions.before", view.before);
  go(ways[1], "questions.after", view.after);
}

// What can be done about it: rows of keys under a line of words, as high as there is room.
struct Deeds {
  std::size_t across = 1;
  std::size_t rows = 0;  // of reasons
  float words = 0;       // height
  float row = 0;

  [[nodiscard]] float height(const touch::Ui& ui) const {
    const auto keys = static_cast<float>(rows + 1);
    return words + keys * row + (keys - (words > 0 ? 0.0F : 1.0F)) * ui.gap();
  }
};

Deeds plan_deeds(const Pen& pen, float width, float most, const flow::QuestionsView& view) {
  const touch::Ui& ui = pen.ui;
  Deeds plan;
  plan.row = ui.mm(15);
  if (!view.reasons.empty()) {
    plan.across = ui.portrait() ? view.reasons.size() : 1;
    plan.rows = view.reasons.size() / plan.across;
    plan.words = touch::text_height(ui, pen.words("questions.stands"), Font::kStrong, width);
  }
  const float over = plan.height(ui) - most;
  if (over > 0)
    plan.row = std::max(ui.mm(12.2), plan.row - over / static_cast<float>(plan.rows + 1));
  return plan;
}

void draw_deeds(const Pen& pen, const Rect& rect, const flow::QuestionsView& view,
                const Deeds& plan) {
  touch::Ui& ui = pen.ui;
  Cutter down(rect, Axis::kDown, ui.gap());
  if (!view.reasons.empty()) {
    touch::text(ui, down.take(plan.words),
                {.text = pen.words("questions.stands"), .font = Font::kStrong, .lines = 3});
    auto group = ui.group("It stands");
    auto one_size = ui.same_size("stands");
    for (std::size_t row = 0; row < plan.rows; ++row) {
      const auto cells = touch::split(down.take(plan.row), Axis::kAcross, plan.across, ui.gap());
      for (std::size_t n = 0; n < plan.across; ++n) {
        const std::string& reason = view.reasons[row * plan.across + n];
        const touch::Key key{.label = pen.words("reason." + reason),
                             .style = Style::kAction,
                             .enabled = view.can_do,
                             .font = Font::kStrong};
        if (touch::key(ui, cells[n], key)) pen.send(flow::SettleQuestion{view.claim.id, reason});
      }
    }
  }
  const touch::Key mend{
      .label = pen.words("history.mend"), .enabled = view.can_do, .font = Font::kStrong};
  if (touch::key(ui, down.take(plan.row), mend)) pen.send(flow::MendQuestion{view.claim.id});
}

}  // namespace

void draw_questions(const Pen& pen, const Rect& rect, const flow::QuestionsView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Questions");
  if (view.count == 0) {
    touch::text(ui, rect, {.text = pen.words("questions.none"), .down = Align::kStart, .lines = 4});
    return;
  }
  Rect words = rect;
  if (ui.portrait()) {
    Cutter down(rect, Axis::kDown, ui.gap());
    draw_ways(pen, down.take_end(ui.mm(15)), view);
    const Deeds plan = plan_deeds(pen, rect.width(), rect.height(), view);
    draw_deeds(pen, down.take_end(plan.height(ui)), view, plan);
    words = down.take_rest();
  } else {
    Cutter across(rect, Axis::kAcross, ui.mm(5));
    const float wide = std::max(ui.mm(58), rect.width() * 0.33F);
    const Rect side = ui.left_handed() ? across.take(wide) : across.take_end(wide);
    draw_deeds(pen, side, view, plan_deeds(pen, wide, side.height(), view));
    Cutter down(across.take_rest(), Axis::kDown, ui.gap());
    draw_ways(pen, down.take_end(ui.mm(15)), view);
    words = down.take_rest();
  }
  draw_words(pen, words, view);
}

}  // namespace ligule::screens
