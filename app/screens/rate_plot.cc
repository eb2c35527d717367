// The head of a rating card: the plot's number, and what there is room to say of it.
#include <algorithm>

#include "app/screens/plot_stands.h"
#include "app/screens/rate_parts.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Tone;

std::string trial_words(const Pen& pen, const flow::RateView& view) {
  return view.second ? pen.words.fill("rate.second", {view.trial_code}) : view.trial_code;
}

std::string where_words(const Pen& pen, const flow::RateView& view) {
  return pen.words.fill("rate.where",
                        {trial_words(pen, view), occasion_words(pen.words, view.name)});
}

// Whether a shown entry's name has its own line under the plot's number.
bool name_under_number(const touch::Ui& ui, const RateLayout& layout) {
  return layout.roomy && layout.plot.height() >= ui.mm(27);
}

namespace {

// Whether it is percent stand that is given: small glass says then what it is a percent of.
bool giving_percent(const flow::RateView& view) {
  return view.focus && *view.focus < view.measures.size() &&
         view.measures[*view.focus].scale == "percent_stand";
}

// What percent stand is a percent of, in few words; empty while something else is given.
std::string meaning_of(const Pen& pen, const flow::RateView& view) {
  if (!giving_percent(view)) return {};
  return std::string(pen.words(view.drilled ? "scale.percent_stand.short.drilled"
                                            : "scale.percent_stand.short.broadcast"));
}

// One line, in a smaller type where it is long.
void draw_short_line(const Pen& pen, const Rect& rect, std::string_view words, Tone tone,
                     bool may_cut = false) {
  const bool usual = touch::text_width(pen.ui, words, Font::kBody) <= rect.width();
  touch::text(pen.ui, rect,
              {.text = words,
               .font = usual ? Font::kBody : Font::kCaption,
               .tone = tone,
               .may_cut = may_cut});
}

std::string on_one_line(std::string text) {
  for (std::size_t at = text.find('\n'); at != std::string::npos; at = text.find('\n'))
    text.replace(at, 1, ", ");
  return text;
}

// Small and upright: the number, and under it what is given, or trial and rating, or what is nearly
// used up.
void draw_tight_plot(const Pen& pen, const Rect& rect, const flow::RateView& view) {
  touch::Ui& ui = pen.ui;
  Cutter down(rect, Axis::kDown, 0);
  Cutter below(down.take_end(ui.mm(5)), Axis::kAcross, ui.mm(1));
  const std::string meaning = meaning_of(pen, view);
  std::string words = meaning.empty() ? where_words(pen, view) : meaning;
  if (touch::text_width(ui, words, Font::kCaption) > below.rest().width())
    words =
        pen.words.fill("rate.where.short", {trial_words(pen, view), std::to_string(view.block)});
  // The stakes tell where in the trial one is.
  if (touch::text_width(ui, words, Font::kCaption) > below.rest().width())
    words = trial_words(pen, view);
  if (!view.names.empty() && meaning.empty()) words = view.names;
  if (view.warning) {
    const float side = below.rest().height();
    ui.canvas().shape(touch::Shape::kQuestioned, below.take(side));
    words = pen.words.fill({view.warning->key + ".short", view.warning->arguments});
  }
  draw_short_line(pen, below.take_rest(), words, Tone::kInk, words == view.names);
  Rect room = down.take_rest();
  room.top -= ui.mm(1.5);  // the page's margin is air enough above a number
  draw_plot_number(pen, room, view.plot, Font::kValue, view.stands);
  // Beside a short number: the trial, and whose plot it is once that may be known.
  room.left += touch::text_width(ui, view.plot, Font::kValue) + stands_sign_width(ui) + ui.mm(1);
  if (meaning.empty()) return;
  const bool named = !view.names.empty();
  const std::string beside = named ? view.names : trial_words(pen, view);
  // A name shows its start; a trial stands whole or not at all.
  const float least = named ? ui.mm(10) : touch::text_width(ui, beside, Font::kCaption);
  if (least > room.width()) return;
  touch::text(ui, room,
              {.text = beside,
               .font = Font::kCaption,
               .tone = Tone::kInkSoft,
               .lines = named ? 2 : 1,
               .may_cut = named});
}

// Small and wide: three lines beside the number.
void draw_compact_plot(const Pen& pen, const Rect& rect, const flow::RateView& view,
                       std::string_view place) {
  touch::Ui& ui = pen.ui;
  Cutter across(rect, Axis::kAcross, ui.mm(3));
  const float large = touch::text_width(ui, view.plot, Font::kPlot) + 1;
  const Font font = large <= rect.width() * 0.55F ? Font::kPlot : Font::kValue;
  const float number = touch::text_width(ui, view.plot, font) + 1;
  // The sign that nothing was stated gives way to block and progress.
  const float left = rect.width() - number - stands_sign_width(ui) - ui.mm(3);
  const std::string one_line = on_one_line(std::string(place));
  const bool crowds = touch::text_width(ui, one_line, Font::kCaption) > left;
  const Rect number_room =
      across.take(number + (crowds && !view.stands.stated ? 0 : stands_sign_width(ui)));
  draw_plot_number(pen, number_room, view.plot, font, view.stands);
  const Rect beside = across.take_rest();
  if (view.warning) {
    touch::text(ui, beside, {.text = pen.words.fill(*view.warning), .lines = 3});
    return;
  }
  const auto lines = touch::split(beside, Axis::kDown, 3, 0);
  // The chips say what is rated: the trial alone where both have no room.
  std::string where = where_words(pen, view);
  if (touch::text_width(ui, where, Font::kBody) > beside.width()) where = trial_words(pen, view);
  const std::string meaning = meaning_of(pen, view);
  // The stakes tell how far one is.
  const std::string block = pen.words.fill("review.block", {std::to_string(view.block)});
  const Font least = ui.look().large_text ? Font::kCaption : Font::kBody;
  if (meaning.empty() && view.names.empty()) {
    if (touch::wrap(ui, place, least, beside.width()).size() > 2) place = block;
    touch::text(ui, lines[0], {.text = where});
    touch::text(ui, {lines[1].left, lines[1].top, lines[1].right, lines[2].bottom},
                {.text = place, .tone = Tone::kInkSoft, .lines = 2});
    return;
  }
  // A long name gives way; what is given, block and progress stay.
  const bool named = !view.names.empty();
  const std::string middle = meaning.empty() ? trial_words(pen, view) : meaning;
  std::string last = on_one_line(std::string(place));
  if (touch::text_width(ui, last, Font::kCaption) > beside.width()) last = block;
  const float widest = std::max(touch::text_width(ui, middle, Font::kBody),
                                touch::text_width(ui, last, Font::kBody));
  const Font small = widest <= beside.width() ? Font::kBody : Font::kCaption;
  if (touch::text_width(ui, middle, small) > beside.width()) {
    touch::text(ui, {beside.left, lines[0].top, beside.right, lines[1].bottom},
                {.text = middle, .font = small, .lines = 2});
  } else {
    touch::text(
        ui, lines[0],
        {.text = named ? view.names : trial_words(pen, view), .font = small, .may_cut = named});
    touch::text(ui, lines[1], {.text = middle, .font = small});
  }
  touch::text(ui, lines[2], {.text = last, .font = small, .tone = Tone::kInkSoft});
}

// In the column under the chips: what is nearly used up, else whose plot it is, else where it lies.
void draw_gloved_where(const Pen& pen, const Rect& rect, const flow::RateView& view) {
  std::string words =
      pen.words.fill("rate.where.short", {trial_words(pen, view), std::to_string(view.block)});
  if (!view.names.empty()) words = view.names;
  if (view.warning) words = pen.words.fill({view.warning->key + ".short", view.warning->arguments});
  touch::text(pen.ui, rect,
              {.text = words, .down = Align::kEnd, .lines = 3, .may_cut = !view.names.empty()});
}

}  // namespace

void draw_plot_and_place(const Pen& pen, const RateLayout& layout, const flow::RateView& view) {
  touch::Ui& ui = pen.ui;
  stands_part(pen, layout.plot, view.stands);
  if (!layout.where.empty()) {
    // Keep of an amount takes that place.
    const bool amount = view.focus && view.measures[*view.focus].pad == flow::PadKind::kAmount &&
                        !view.measures[*view.focus].gather && !view.stake.any();
    if (!amount) draw_gloved_where(pen, layout.where, view);
    return draw_plot(pen, layout.plot, view.plot, {}, view.stands);
  }
  if (!layout.roomy && layout.plot.width() < ui.mm(55))
    return draw_tight_plot(pen, layout.plot, view);
  std::string place = pen.words.fill(
      "rate.place", {std::to_string(view.block), number(view.done), number(view.plots)});
  Rect plot = layout.plot;
  if (view.warning && layout.roomy && plot.height() >= ui.mm(34)) {
    Cutter down(plot, Axis::kDown, ui.mm(1));
    draw_warning(pen, down.take(ui.mm(12)), *view.warning);
    plot = down.take_rest();
  } else if (view.warning) {
    place = pen.words.fill(*view.warning);
  }
  if (!layout.roomy) return draw_compact_plot(pen, plot, view, place);
  // Under the number where the card is high; else at the head of the pad.
  if (!view.names.empty() && name_under_number(ui, layout)) {
    Cutter down(plot, Axis::kDown, ui.mm(0.6));
    touch::text(ui, down.take_end(ui.mm(5.2)), {.text = view.names, .may_cut = true});
    plot = down.take_rest();
  }
  draw_plot(pen, plot, view.plot, place, view.stands);
}

}  // namespace ligule::screens
