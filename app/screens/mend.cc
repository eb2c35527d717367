// Putting one value right: what stands, the way, the new value, and the reason that does it.
#include <algorithm>

#include "app/screens/measure_pad.h"
#include "app/screens/review_parts.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Tone;

namespace {

std::string_view word_of(const Pen& pen, flow::Mend what) {
  switch (what) {
    case flow::Mend::kCorrect:
      return pen.words("mend.correct");
    case flow::Mend::kTakeBack:
      return pen.words("mend.take_back");
    case flow::Mend::kConfirm:
      return pen.words("mend.confirm");
    case flow::Mend::kSettle:
      break;
  }
  return pen.words("mend.settle");
}

std::string origin(const Pen& pen, const flow::ClaimView& claim) {
  const std::string who = claim.who.empty() ? std::string(pen.words("mend.nobody")) : claim.who;
  return pen.words.fill("history.when", {claim.date + " " + claim.clock, who});
}

std::string shown(const Pen& pen, const flow::ClaimView& claim) {
  std::string shown = shown_code(pen, claim.shown);
  if (!claim.word.empty())
    shown = pen.words(claim.word);
  else if (claim.shown.empty())
    shown = pen.words("mark." + std::string(flow::name_of(claim.mark)));
  if (claim.said.empty()) return shown;
  return pen.words.fill("history.said", {shown, std::string(pen.words(claim.said))});
}

float paragraph(const Pen& pen, const Rect& area, float top, std::string_view text, Tone tone) {
  touch::Ui& ui = pen.ui;
  const float height = touch::text_height(ui, text, Font::kBody, area.width());
  touch::text(ui, {area.left, top, area.right, top + height},
              {.text = text, .tone = tone, .down = Align::kStart, .lines = 6});
  return top + height + ui.mm(2);
}

float draw_claims(const Pen& pen, const Rect& area, float top, const flow::MendView& mend) {
  touch::Ui& ui = pen.ui;
  if (mend.claims.size() == 1) {
    const flow::ClaimView& claim = mend.claims.front();
    const std::string text = pen.words.fill("mend.now", {shown(pen, claim), origin(pen, claim)});
    return paragraph(pen, area, top, text, Tone::kInk);
  }
  top = paragraph(pen, area, top, pen.words("mend.which"), Tone::kInk);
  auto group = ui.group("Claims");
  for (const flow::ClaimView& claim : mend.claims) {
    const std::string label = shown(pen, claim) + "##" + claim.id.text();
    const std::string note = origin(pen, claim);
    const touch::Key key{
        .label = label, .note = note, .selected = claim.chosen, .font = Font::kStrong};
    if (touch::key(ui, {area.left, top, area.right, top + ui.mm(17)}, key))
      pen.send(flow::MendValue{claim.id});
    top += ui.mm(17) + ui.gap();
  }
  return top;
}

// Beside a pad for gloves on small glass.
bool narrow(const touch::Ui& ui, const Rect& area) {
  return area.width() < ui.mm(60);
}

float draw_ways(const Pen& pen, const Rect& area, float top, const flow::MendView& mend) {
  touch::Ui& ui = pen.ui;
  if (mend.ways.size() < 2) return top;
  auto group = ui.group("Way");
  // One under the other in a narrow column.
  const std::size_t across = narrow(ui, area) ? 1 : mend.ways.size();
  for (std::size_t n = 0; n < mend.ways.size(); ++n) {
    const Rect strip{area.left, top, area.right, top + ui.mm(12.5)};
    const auto cells = touch::split(strip, Axis::kAcross, across, ui.gap());
    const touch::Key key{.label = word_of(pen, mend.ways[n]),
                         .selected = mend.ways[n] == mend.what,
                         .font = Font::kStrong};
    if (touch::key(ui, cells[n % across], key)) pen.send(flow::MendBy{mend.ways[n]});
    if (n + 1 == mend.ways.size() || (n + 1) % across == 0) top = strip.bottom + ui.gap();
  }
  return top;
}

// The new value as it is typed or chosen.
float draw_value(const Pen& pen, const Rect& area, float top, const flow::MendView& mend) {
  touch::Ui& ui = pen.ui;
  if (mend.pad == flow::MendPad::kNone) return top;
  touch::Field field{.label = pen.words("mend.value"),
                     .value = mend.typed,
                     .unit = mend.typed.empty() ? std::string_view() : std::string_view(mend.unit),
                     .empty_hint = pen.words("mend.hint"),
                     .focused = true,
                     .form = touch::FieldForm::kRow};
  std::string code;
  for (const flow::ChoiceView& choice : mend.choices) {
    if (!choice.selected) continue;
    field.value = code = shown_code(pen, choice.entered);
    if (mend.own_words)
      field.unit = choice.word;
    else if (pen.words.has(choice.word))
      field.unit = pen.words(choice.word);
    if (field.unit == field.value) field.unit = {};
  }
  float height = ui.mm(13);
  if (narrow(ui, area)) {
    field.form = touch::FieldForm::kDense;
    height = ui.mm(16);
  }
  (void)touch::field(ui, {area.left, top, area.right, top + height}, field);
  return top + height + ui.gap();
}

// The keys that do it, always in view: one row above a pad held upright, else two.
struct Reasons {
  std::size_t across = 2;
  float row = 0;
  float gap = 0;
  bool words = true;  // what they are asked for, above them
};

Reasons plan_reasons(const touch::Ui& ui, const Rect& room, const flow::MendView& mend) {
  const bool above_pad = ui.portrait() && mend.pad != flow::MendPad::kNone;
  const bool low = room.height() < ui.mm(60);
  Reasons plan;
  if (above_pad) plan.across = std::max<std::size_t>(1, mend.reasons.size());
  plan.row = ui.mm(15);
  plan.gap = low || narrow(ui, room) ? close_gap(ui) : ui.gap();
  plan.words = !above_pad && !low && !narrow(ui, room);
  return plan;
}

std::string_view asked_for(const Pen& pen, const flow::MendView& mend) {
  return pen.words(mend.can_do ? "mend.why" : "mend.choose");
}

float reasons_height(const Pen& pen, const Rect& room, const flow::MendView& mend,
                     const Reasons& plan) {
  const std::size_t lines = (mend.reasons.size() + plan.across - 1) / plan.across;
  const auto rows = static_cast<float>(lines);
  const float words =
      plan.words ? touch::text_height(pen.ui, asked_for(pen, mend), Font::kBody, room.width()) +
                       pen.ui.mm(2)
                 : 0;
  return words + rows * plan.row + (rows - 1) * plan.gap;
}

void draw_reasons(const Pen& pen, const Rect& area, const flow::MendView& mend,
                  const Reasons& plan) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Why");
  auto one_size = ui.same_size("reasons");
  float top = area.top;
  if (plan.words) top = paragraph(pen, area, top, asked_for(pen, mend), Tone::kInkSoft);
  for (std::size_t n = 0; n < mend.reasons.size(); ++n) {
    const std::size_t above = n / plan.across;
    const float row = top + static_cast<float>(above) * (plan.row + plan.gap);
    const auto cells = touch::split({area.left, row, area.right, row + plan.row}, Axis::kAcross,
                                    plan.across, plan.gap);
    const touch::Key key{.label = pen.words("reason." + mend.reasons[n]),
                         .enabled = mend.can_do,
                         .font = Font::kStrong,
                         .halo = plan.gap / 2};
    if (touch::key(ui, cells[n % plan.across], key)) pen.send(flow::MendFor{mend.reasons[n]});
  }
}

ChoiceScale scale_of(const flow::MendView& mend) {
  return {.kind = mend.kind, .code = mend.scale, .own_words = mend.own_words};
}

void draw_pad(const Pen& pen, const Rect& rect, const flow::MendView& mend) {
  touch::Ui& ui = pen.ui;
  if (mend.pad == flow::MendPad::kNumber) {
    const touch::NumberPad pad{.erase = pen.words("keyboard.erase"), .decimals = mend.decimals};
    send_keys(pen, touch::number_pad(ui, rect, pad));
  }
  if (mend.pad != flow::MendPad::kSteps) return;
  auto group = ui.group("Steps");
  auto one_size = ui.same_size("steps");
  ChoiceTiles pad = choice_tiles(pen, scale_of(mend), mend.choices);
  const std::size_t columns = best_columns(ui, rect, pad.tiles);
  // Without room for words the codes stand alone: the value above says the word of the chosen one.
  if (columns == 0)
    for (touch::Tile& tile : pad.tiles) tile.note = {};
  // Where words leave no room that a picture could be told in, they stand without.
  const std::size_t rows = columns == 0 ? 1 : (pad.tiles.size() + columns - 1) / columns;
  const auto lines = static_cast<float>(rows);
  const float height = (rect.height() - ui.gap() * (lines - 1)) / lines;
  const bool pictures = columns == 0 || height >= ui.mm(26);
  if (!pictures)
    for (touch::Tile& tile : pad.tiles) tile.paint = {};
  const touch::Tiles form{.columns = columns, .most_mm = 46, .label_below = pictures};
  if (const auto n = touch::tile_pad(ui, rect, pad.tiles, form))
    pen.send(flow::ChooseMended{mend.choices[*n].entered});
}

// Of a pad below the words: digits have four rows, steps with words the same room, without as many
// rows as they fill.
float pad_height(const Pen& pen, const Rect& page, const flow::MendView& mend) {
  const touch::Ui& ui = pen.ui;
  const float usual = std::max(own_pad(ui), page.height() * 0.45F);
  if (mend.pad != flow::MendPad::kSteps) return usual;
  const ChoiceTiles pad = choice_tiles(pen, scale_of(mend), mend.choices);
  const Rect room{page.left, page.bottom - usual, page.right, page.bottom};
  if (best_columns(ui, room, pad.tiles) > 0) return usual;
  const float step = ui.key() + ui.gap();
  const auto columns = static_cast<std::size_t>(std::max(1.0F, (page.width() + ui.gap()) / step));
  const std::size_t rows = (mend.choices.size() + columns - 1) / columns;
  return std::min(usual, static_cast<float>(rows) * step - ui.gap() + 1);
}

}  // namespace

void draw_mend(const Pen& pen, const flow::HeadView& status, const flow::MendView& mend) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Put right");
  Rect words = full_page(ui);
  Rect head;  // over the whole width, where the words beside a pad have no room for it
  if (mend.pad != flow::MendPad::kNone) {
    if (ui.portrait()) {
      // A pad for gloves leaves little above it: what stands there comes closer together.
      const float clear = (ui.gap() + close_gap(ui)) / 2;
      if (small_for_gloves(ui)) stand_close(ui);
      Cutter down(words, Axis::kDown, small_for_gloves(ui) ? clear : ui.gap());
      draw_pad(pen, down.take_end(pad_height(pen, words, mend)), mend);
      words = down.take_rest();
    } else if (small_for_gloves(ui)) {
      stand_close(ui);
      const GlovePage page = glove_page(ui);
      draw_pad(pen, page.pad, mend);
      head = page.above;
      words = page.beside;
    } else {
      // The pad needs the whole height of low glass; the head stands beside it.
      Cutter across(words, Axis::kAcross, ui.mm(5));
      const float width = std::max(3 * ui.key() + 2 * ui.gap(), words.width() * 0.4F);
      Rect pad = ui.left_handed() ? across.take(width) : across.take_end(width);
      pad.top = pad.bottom - std::min(pad.height(), std::max(own_pad(ui), ui.mm(126)));
      draw_pad(pen, pad, mend);
      words = across.take_rest();
    }
  }
  const bool close = ui.portrait() && mend.pad != flow::MendPad::kNone && small_for_gloves(ui);
  Cutter down(words, Axis::kDown, close ? close_gap(ui) : ui.gap());
  if (head.empty()) head = down.take(ui.mm(16.2));
  const std::string measure = measure_name(pen, mend.measure);
  const std::string title = pen.words.fill("mend.title", {mend.plot, measure});
  if (draw_head(pen, head, {.title = title, .back = true}, status)) pen.send(flow::ReviewBack{});
  const Reasons plan = plan_reasons(ui, down.rest(), mend);
  draw_reasons(pen, down.take_end(reasons_height(pen, down.rest(), mend, plan)), mend, plan);
  const Rect room = down.take_rest();
  auto scroll = ui.scroll("mend", room);
  const Rect& area = scroll.area();
  // Where little shows the value comes first: it must be seen while it is typed.
  const bool value_first = narrow(ui, area) || room.height() < ui.mm(45);
  float top = area.top;
  if (value_first) top = draw_value(pen, area, top, mend);
  top = draw_claims(pen, area, top, mend);
  top = draw_ways(pen, area, top, mend);
  if (!value_first) (void)draw_value(pen, area, top, mend);
}

}  // namespace ligule::screens
