#include "app/screens/pen.h"

#include <algorithm>

#include "app/screens/plot_stands.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Tone;

namespace {

constexpr double kOutwardsMm = 1.2;

}  // namespace

Shape shape_of(flow::Mark mark) {
  switch (mark) {
    case flow::Mark::kOpen:
      return Shape::kOpen;
    case flow::Mark::kSaving:
      return Shape::kNow;
    case flow::Mark::kKept:
      return Shape::kDone;
    case flow::Mark::kQuestioned:
      return Shape::kQuestioned;
    case flow::Mark::kOnHold:
    case flow::Mark::kNotSaved:
      return Shape::kHeld;
    case flow::Mark::kLater:
      return Shape::kLater;
    case flow::Mark::kMissing:
      return Shape::kLost;
    case flow::Mark::kAbandoned:
      return Shape::kStruck;
    case flow::Mark::kNoPart:
      return Shape::kDash;
  }
  return Shape::kOpen;
}

std::string note_text(const Pen& pen, std::string_view entered) {
  std::string text;
  while (!entered.empty()) {
    const std::size_t open = entered.find('[');
    const std::size_t close = open == std::string_view::npos ? open : entered.find(']', open);
    if (close == std::string_view::npos) break;
    const std::string key =
        "note_phrase." + std::string(entered.substr(open + 1, close - open - 1));
    text += entered.substr(0, open);
    text += pen.words.has(key) ? pen.words(key) : entered.substr(open, close - open + 1);
    entered.remove_prefix(close + 1);
  }
  return text + std::string(entered);
}

std::string measure_name(const Language& words, std::string_view code) {
  const std::string key = "measure." + std::string(code);
  return std::string(words.has(key) ? words(key) : code);
}
std::string measure_name(const Language& words, std::string_view code, const flow::OwnNames& own) {
  const auto name = own.find(std::string(code));
  return name == own.end() || name->second.empty() ? measure_name(words, code) : name->second;
}

std::string measure_name(const Pen& pen, std::string_view code) {
  return pen.own_names == nullptr ? measure_name(pen.words, code)
                                  : measure_name(pen.words, code, *pen.own_names);
}

std::string shown_code(const Pen& pen, const std::string& code) {
  const std::string key = "stage_code." + code;
  return pen.words.has(key) ? std::string(pen.words(key)) : code;
}
std::string code_label(const Pen& pen, const std::string& code) {
  return shown_code(pen, code) + "##" + code;
}

std::string number(std::size_t n) {
  return std::to_string(n);
}

Rect full_page(const touch::Ui& ui) {
  return ui.window_rect().grown(-ui.mm(3));
}

float own_pad(const touch::Ui& ui) {
  return 4 * ui.key() + 3 * ui.gap();
}

PadBeside pad_beside(const touch::Ui& ui) {
  touch::Cutter across(full_page(ui), touch::Axis::kAcross, ui.mm(4));
  const float room = across.rest().width();
  const float wanted = std::max(own_pad(ui), std::min(room * 0.5F, ui.mm(116)));
  const float width = room - wanted - ui.mm(4) >= ui.mm(70) ? wanted : own_pad(ui);
  const touch::Rect side = ui.left_handed() ? across.take(width) : across.take_end(width);
  const float height = std::min(4 * ui.mm(28) + 3 * ui.gap(), side.height());
  return {.pad = {side.left, side.bottom - height, side.right, side.bottom},
          .words = across.take_rest()};
}

PadBeside pad_and_words(const touch::Ui& ui) {
  if (!ui.portrait()) return pad_beside(ui);
  Cutter down(full_page(ui), Axis::kDown, close_gap(ui));
  const Rect pad =
      down.take_end(std::clamp(down.left_over() * 0.5F, own_pad(ui), own_pad(ui) + ui.mm(16)));
  Rect words = down.take_rest();
  words.bottom -= ui.gap() - close_gap(ui);
  return {.pad = pad, .words = words};
}

bool small_for_gloves(const touch::Ui& ui) {
  if (!ui.look().gloves) return false;
  const Rect page = full_page(ui);
  return ui.portrait() ? page.height() - own_pad(ui) < ui.mm(75)
                       : page.width() - own_pad(ui) < ui.mm(74);
}

Rect outwards(const touch::Ui& ui, const Rect& column) {
  Rect wider = column;
  if (ui.left_handed())
    wider.right += ui.mm(kOutwardsMm);
  else
    wider.left -= ui.mm(kOutwardsMm);
  return wider;
}

GlovePage glove_page(const touch::Ui& ui) {
  const auto block = [&](int keys) {
    const auto n = static_cast<float>(keys);
    return n * ui.key() + (n - 1) * ui.gap();
  };
  // Pads answer half their gap beyond their edge, what lies beside half a close one.
  const float clear = (ui.gap() + close_gap(ui)) / 2;
  GlovePage page;
  Cutter down(full_page(ui), Axis::kDown, clear);
  Cutter low(down.take_end(block(ui.portrait() ? 4 : 3)), Axis::kAcross, clear);
  const float width = block(ui.portrait() ? 3 : 4);
  page.pad = ui.left_handed() ? low.take(width) : low.take_end(width);
  page.beside = low.take_rest();
  if (ui.portrait()) page.beside = outwards(ui, page.beside);
  page.above = down.take_rest();
  return page;
}

std::vector<Rect> split_by_need(const Rect& rect, const std::vector<float>& needed, float gap) {
  const auto n = static_cast<float>(needed.size());
  float room = rect.width() - (n - 1) * gap;
  // Those that need more than an equal part get that; the rest is shared until all have enough.
  std::vector<float> widths(needed.size(), 0);
  auto open = n;
  for (bool again = true; again && open > 0;) {
    again = false;
    for (std::size_t part = 0; part < needed.size(); ++part) {
      if (widths[part] > 0 || open <= 1 || needed[part] <= room / open) continue;
      widths[part] = needed[part];
      room -= needed[part];
      --open;
      again = true;
    }
  }
  for (float& width : widths)
    if (width <= 0) width = room / open;
  std::vector<Rect> parts;
  float left = rect.left;
  for (const float width : widths) {
    parts.push_back({left, rect.top, left + width, rect.bottom});
    left += width + gap;
  }
  return parts;
}

void draw_fields(const Pen& pen, const Rect& rect, const std::vector<flow::FieldView>& fields,
                 const std::vector<std::size_t>& lines, Font font) {
  const touch::Ui& ui = pen.ui;
  const float gap = close_gap(ui);
  const auto strips = touch::split(rect, Axis::kDown, lines.size(), gap);
  // In a narrow column the heaviest has a line of its own.
  const std::string_view number = rect.width() < ui.mm(60) ? "00.00" : "000.00";
  std::size_t at = 0;
  for (std::size_t line = 0; line < lines.size(); ++line) {
    std::vector<float> needed(lines[line], ui.mm(17));
    for (std::size_t n = 0; n < lines[line]; ++n)
      if (fields[at + n].focused) needed[n] = touch::dense_field_width(ui, number);
    const auto cells = split_by_need(strips[line], needed, gap);
    for (const Rect& cell : cells)
      draw_field(pen, cell, fields[at++], touch::FieldForm::kDense, font);
  }
}

float close_gap(const touch::Ui& ui) {
  return ui.mm(2.3);
}
void stand_close(touch::Ui& ui) {
  ui.set_halo(close_gap(ui) / 2);
}

std::string occasion_words(const Language& words, const flow::OccasionName& name) {
  if (name.job == Job::kHarvest)
    return words.fill("occasion.cutting", {std::to_string(name.cutting)});
  std::string text;
  for (const std::string& measure : name.measures) {
    // On a card its pad is beside it; here the name stands alone.
    const std::string whole = "measure_long." + measure;
    text += (text.empty() ? "" : ", ") + (words.has(whole)
                                              ? std::string(words(whole))
                                              : measure_name(words, measure, name.own_names));
  }
  return text.empty() ? name.code : text;
}

void line(const Pen& pen, const Rect& rect, std::string_view text, const Line& line) {
  touch::text(pen.ui, rect,
              {.text = text, .font = line.font, .tone = line.tone, .across = line.across});
}

float hand_key_width(const touch::Ui& ui, std::string_view initials) {
  return std::max(ui.mm(16), touch::text_width(ui, initials, Font::kLabel) + ui.mm(9));
}

void draw_hand_key(const Pen& pen, const Rect& rect, std::string_view initials) {
  if (initials.empty()) return;
  auto group = pen.ui.group("Hand over");
  // More letters than most have: smaller ones.
  const bool long_one =
      touch::text_width(pen.ui, initials, Font::kLabel) > rect.width() - pen.ui.mm(2.4);
  const touch::Key hand{.label = initials, .font = long_one ? Font::kCaption : Font::kLabel};
  if (touch::key(pen.ui, rect, hand)) pen.send(flow::HandOver{});
}

bool draw_head(const Pen& pen, const Rect& rect, const Title& title, const flow::HeadView& head) {
  touch::Ui& ui = pen.ui;
  Cutter across(rect, Axis::kAcross, ui.mm(4));
  bool back = false;
  if (title.back || title.tablet) {
    touch::Key out{.label = pen.words(title.back ? "key.back" : "key.tablet")};
    out.paint = title.back ? touch::back_sign() : touch::tablet_sign();
    out.icon_only = true;
    const Rect place = across.take(ui.mm(16));
    const Rect way_out = touch::centred(place, place.width(), std::min(place.height(), ui.mm(16)));
    back = touch::key(ui, way_out, out);
    ui.flash_at(way_out);
  }
  Rect rest = across.take_rest();
  if (has_notice(pen)) {
    draw_notice(pen, rest);
    return back;
  }
  // A low head has its title only. On narrow glass title and initials keep their room, the title on
  // two lines if need be; the status goes without words, the second line goes first.
  const bool low = rect.height() < touch::line_height(ui, Font::kTitle) +
                                       touch::line_height(ui, Font::kBody) - ui.mm(0.5);
  // Large words may stand in the usual size.
  const Font least = ui.look().large_text ? Font::kCaption : Font::kBody;
  const float one_line = touch::text_width(ui, title.title, Font::kTitle);
  const float second = low ? 0.0F : touch::text_width(ui, title.note, least);
  const float air = ui.mm(2);
  const float with_initials =
      rest.width() - (head.initials.empty() ? 0.0F : hand_key_width(ui, head.initials) + ui.mm(4));
  if (rest.width() - status_width(pen, head) >= std::max(one_line, second) + air) {
    rest = draw_status(pen, rest, head);
  } else {
    float keep_free = touch::least_title_width(ui, title.title, rect.height());
    for (const float wider : {touch::text_width(ui, title.title, Font::kHead) + air, one_line + air,
                              std::max(one_line, second) + air})
      if (wider <= with_initials) keep_free = std::max(keep_free, wider);
    rest = draw_short_status(pen, rest, head, keep_free);
  }
  // A second line that has no room is left out, not cut.
  const bool no_note =
      !title.note_may_cut && touch::text_width(ui, title.note, least) > rest.width();
  if (touch::head(ui, rest,
                  {.title = title.title,
                   .note = low || no_note ? "" : title.note,
                   .note_may_cut = title.note_may_cut}))
    back = true;
  return back;
}

void draw_warning(const Pen& pen, const Rect& rect, const flow::Words& words) {
  touch::Ui& ui = pen.ui;
  Cutter across(rect, Axis::kAcross, ui.mm(2));
  const float side = std::min(ui.mm(6), rect.height());
  ui.canvas().shape(Shape::kQuestioned, touch::centred(across.take(side), side, side));
  touch::text(ui, across.take_rest(),
              {.text = pen.words.fill(words), .font = Font::kStrong, .lines = 3});
}

void draw_take_back(const Pen& pen, const Rect& rect, bool enabled) {
  touch::Key back{.label = pen.words("key.take_back"), .enabled = enabled, .font = Font::kStrong};
  if (rect.height() < pen.ui.mm(18) || rect.width() < pen.ui.mm(18)) {
    back.paint = touch::undo_sign();
    back.icon_only = true;
  }
  if (touch::key(pen.ui, rect, back)) pen.send(flow::TakeBack{});
}

void draw_lane(const Pen& pen, const Rect& rect, const std::vector<flow::StakeView>& lane,
               std::size_t present) {
  std::vector<touch::Stake> stakes;
  stakes.reserve(lane.size());
  for (const flow::StakeView& stake : lane) {
    const std::string key = "mark." + std::string(flow::name_of(stake.mark));
    // Words live longer than the frame; a key that has none must not be looked at later.
    const std::string_view word = pen.words.has(key) ? pen.words(key) : std::string_view();
    stakes.push_back({stake.plot, shape_of(stake.mark), word});
  }
  if (const auto tapped = touch::stake_lane(pen.ui, "lane", rect, stakes, present))
    pen.send(flow::GoToPlot{lane[*tapped].plot});
}

void walk_by_arrow(const Pen& pen, platform::HardKey key, const std::vector<flow::StakeView>& lane,
                   std::size_t present) {
  if (key == platform::HardKey::kLeft && present > 0)
    pen.send(flow::GoToPlot{lane[present - 1].plot});
  if (key == platform::HardKey::kRight && present + 1 < lane.size())
    pen.send(flow::GoToPlot{lane[present + 1].plot});
}

void draw_plot_number(const Pen& pen, const Rect& strip, std::string_view plot, Font font,
                      const flow::StandsView& stands) {
  Rect rect = strip;
  const float needed = pen.ui.mm(pen.ui.sizes().capital_mm(font) * 1.32);
  rect.top = std::min(rect.top, rect.bottom - needed);
  touch::text(pen.ui, rect, {.text = plot, .font = font, .value = true});
  draw_stands_sign(pen, rect, rect.left + touch::text_width(pen.ui, plot, font), stands);
}

void draw_plot(const Pen& pen, const Rect& strip, std::string_view plot, std::string_view place,
               const flow::StandsView& stands) {
  touch::Ui& ui = pen.ui;
  // The digits have no descenders: a strip may be as low as they are.
  Rect rect = strip;
  const float lacking = ui.mm(ui.sizes().capital_mm(Font::kPlot) * 1.31) - strip.height();
  if (lacking > 0) {
    rect.top -= lacking / 2;
    rect.bottom += lacking / 2;
  }
  Font font = Font::kPlot;
  const float sign = stands.stated ? stands_sign_width(ui) : 0;
  if (touch::text_width(ui, plot, font) + sign > rect.width()) font = Font::kValue;
  const float capitals = ui.mm(ui.sizes().capital_mm(font) * 1.34);
  const float words = ui.mm(ui.sizes().capital_mm(Font::kBody) * 1.5);
  std::string one_line(place);
  for (std::size_t at = one_line.find('\n'); at != std::string::npos; at = one_line.find('\n'))
    one_line.replace(at, 1, ", ");
  const bool below = rect.height() >= capitals + words &&
                     touch::text_width(ui, one_line, Font::kBody) <= rect.width();
  if (place.empty() || below) {
    Cutter down(rect, Axis::kDown, 0);
    if (!place.empty()) line(pen, down.take_end(words), one_line, {Font::kBody, Tone::kInkSoft});
    draw_plot_number(pen, down.take_rest(), plot, font, stands);
    return;
  }
  Cutter across(rect, Axis::kAcross, ui.mm(3));
  const auto wraps_to = [&](float used) {
    return touch::wrap(ui, place, Font::kBody, across.left_over() - used - ui.mm(3)).size();
  };
  const float number = touch::text_width(ui, plot, font) + 1;
  // The sign that nothing was stated gives way to where the plot lies.
  const bool crowds = wraps_to(number + stands_sign_width(ui)) > wraps_to(number);
  const float taken = number + (crowds && !stands.stated ? 0 : stands_sign_width(ui));
  draw_plot_number(pen, across.take(std::min(taken, rect.width())), plot, font, stands);
  // A long number leaves no room for where it stands; the stakes tell that too.
  const auto lines =
      std::max(2, static_cast<int>(rect.height() / touch::line_height(ui, Font::kBody)));
  if (touch::wrap(ui, place, Font::kBody, across.left_over()).size() >
      static_cast<std::size_t>(lines))
    return;
  touch::text(ui, across.take_rest(),
              {.text = place, .font = Font::kBody, .tone = Tone::kInkSoft, .lines = lines});
}

void send_keys(const Pen& pen, const std::vector<touch::PadKey>& keys) {
  for (const touch::PadKey& key : keys) {
    switch (key.kind) {
      case touch::PadKey::Kind::kText:
        pen.send(flow::KeyText{key.text});
        break;
      case touch::PadKey::Kind::kErase:
        pen.send(flow::KeyErase{});
        break;
      case touch::PadKey::Kind::kDone:
        pen.send(flow::KeyDone{});
        break;
    }
  }
}

void draw_keyboard(const Pen& pen, const Rect& rect, std::string_view done) {
  const touch::KeyboardWords words{.space = pen.words("keyboard.space"),
                                   .erase = pen.words("keyboard.erase"),
                                   .done = done,
                                   .capitals = pen.words("keyboard.capitals"),
                                   .digits = pen.words("keyboard.digits"),
                                   .letters = pen.words("keyboard.letters"),
                                   .accents = pen.words("keyboard.accents")};
  send_keys(pen, touch::keyboard(pen.ui, rect, words, pen.scratch.keyboard));
}

void draw_field(const Pen& pen, const Rect& rect, const flow::FieldView& field,
                touch::FieldForm form, Font font) {
  const std::string label =
      std::string(pen.words("field." + std::string(flow::name_of(field.field))));
  touch::Field drawn{.label = label,
                     .value = field.text,
                     .unit = field.unit,
                     .focused = field.focused,
                     .font = font,
                     .own_words = field.field == flow::Field::kMachine,
                     .form = form};
  if (field.mark != flow::Mark::kOpen) drawn.shape = shape_of(field.mark);
  if (touch::field(pen.ui, rect, drawn)) pen.send(flow::FocusField{field.field});
}

}  // namespace ligule::screens
