// The tablet: how it looks and reads for whoever holds it, and what it says of itself. One sheet
// for the person, one for everybody, side by side where there is room.
#include <algorithm>
#include <utility>

#include "app/screens/load.h"
#include "app/screens/preference_words.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Style;
using touch::Tone;

namespace {

constexpr double kKeyMm = 12.6;  // high
constexpr double kBetweenMm = 1.8;

bool of_everybody(flow::Preference what) {
  return what == flow::Preference::kTheme || what == flow::Preference::kRepeats;
}

// Rows of choices: a label and its keys, beside each other or one under the other.
struct Form {
  float label = 0;  // width; 0: above the keys
  float height = 0;
  bool fits = true;  // no key's words are wider than its key
};

// A label over its keys, clear of them.
float label_above(const touch::Ui& ui) {
  return touch::line_height(ui, Font::kBody) + ui.mm(1.2);
}

Form form_of(const Pen& pen, const std::vector<flow::PreferenceView>& rows, float width) {
  const touch::Ui& ui = pen.ui;
  float label = 0;
  float keys = 0;
  for (const flow::PreferenceView& row : rows) {
    label = std::max(label, touch::text_width(ui, preference_name(pen, row.what), Font::kBody));
    float widest = 0;
    for (const flow::OptionView& option : row.options)
      widest =
          std::max(widest, touch::text_width(ui, option_name(pen, row.what, option), Font::kLabel));
    keys = std::max(keys, static_cast<float>(row.options.size()) * (widest + ui.mm(7)));
  }
  const float key = ui.mm(kKeyMm);
  if (label + ui.mm(4) + keys <= width)
    return {std::max(label + ui.mm(4), width * 0.38F), key, true};
  return {0, key + label_above(ui), keys <= width};
}

void draw_choice(const Pen& pen, const Rect& rect, const flow::PreferenceView& row,
                 const Form& form) {
  touch::Ui& ui = pen.ui;
  const std::string_view label = preference_name(pen, row.what);
  auto group = ui.group(label);
  Cutter cut(rect, form.label > 0 ? Axis::kAcross : Axis::kDown, 0);
  if (form.label > 0) {
    touch::text(ui, cut.take(form.label), {.text = label, .tone = Tone::kInkSoft});
  } else {
    Rect above = cut.take(label_above(ui));
    above.bottom -= ui.mm(1.2);
    touch::text(ui, above, {.text = label, .tone = Tone::kInkSoft, .down = touch::Align::kEnd});
  }
  const auto places =
      touch::split(cut.take_rest(), Axis::kAcross, row.options.size(), ui.mm(kBetweenMm));
  for (std::size_t n = 0; n < row.options.size(); ++n) {
    const std::string name = option_name(pen, row.what, row.options[n]);
    const touch::Key choice{
        .label = name, .selected = row.options[n].selected, .halo = ui.mm(kBetweenMm / 2)};
    if (touch::key(ui, places[n], choice)) pen.send(flow::Choose{row.what, row.options[n].code});
  }
}

// What a sheet holds, top down: first measured, then drawn on card of that height.
class Sheet {
 public:
  Sheet(const Pen& pen, float left, float width, float top)
      : pen_(pen), left_(left + pen.ui.mm(4)), width_(width - pen.ui.mm(8)), top_(top) {}

  [[nodiscard]] float width() const { return width_; }
  [[nodiscard]] float bottom() const { return top_ + pen_.ui.mm(3); }
  Rect take(float height) {
    const Rect strip{left_, top_, left_ + width_, top_ + height};
    top_ += height + pen_.ui.mm(kBetweenMm);
    return strip;
  }

 private:
  const Pen& pen_;
  float left_;
  float width_;
  float top_;
};

float choices_height(const Pen& pen, const std::vector<flow::PreferenceView>& rows, float width) {
  return static_cast<float>(rows.size()) *
         (form_of(pen, rows, width).height + pen.ui.mm(kBetweenMm));
}

void draw_choices(const Pen& pen, Sheet& sheet, const std::vector<flow::PreferenceView>& rows) {
  const Form form = form_of(pen, rows, sheet.width());
  for (const flow::PreferenceView& row : rows) draw_choice(pen, sheet.take(form.height), row, form);
}

// --- the person's sheet

float holder_height(const touch::Ui& ui) {
  return std::max(
      ui.mm(15), touch::line_height(ui, Font::kValue) * 0.9F + touch::line_height(ui, Font::kBody));
}

void draw_holder(const Pen& pen, const Rect& rect, const std::string& initials) {
  touch::Ui& ui = pen.ui;
  Cutter across(rect, Axis::kAcross, ui.mm(3));
  const std::string_view over = pen.words("tablet.hand_over");
  const float wanted = touch::text_width(ui, over, Font::kLabel) + ui.mm(8);
  const Rect place = across.take_end(std::min(std::max(ui.mm(30), wanted), rect.width() * 0.55F));
  const touch::Key key{.label = over, .halo = ui.mm(kBetweenMm / 2)};
  if (touch::key(ui, touch::centred(place, place.width(), ui.mm(15)), key))
    pen.send(flow::HandOver{});
  Cutter down(across.take_rest(), Axis::kDown, 0);
  line(pen, down.take_end(touch::line_height(ui, Font::kBody)), pen.words("tablet.holds"),
       {Font::kBody, Tone::kInkSoft});
  line(pen, down.take_rest(), initials, {Font::kValue});
}

float draw_person(const Pen& pen, const Rect& area, const flow::TabletView& view,
                  const std::vector<flow::PreferenceView>& rows) {
  touch::Ui& ui = pen.ui;
  const float inner = area.width() - ui.mm(8);
  const float height =
      ui.mm(7) + holder_height(ui) + ui.mm(kBetweenMm) + choices_height(pen, rows, inner);
  (void)touch::sheet(ui, {area.left, area.top, area.right, area.top + height});
  Sheet sheet(pen, area.left, area.width(), area.top + ui.mm(4));
  draw_holder(pen, sheet.take(holder_height(ui)), view.head.initials);
  draw_choices(pen, sheet, rows);
  return area.top + height;
}

// --- everybody's sheet

struct Fact {
  std::string_view key;  // of its word
  std::string text;
};

std::vector<Fact> facts_of(const Pen& pen, const flow::TabletView& view) {
  std::vector<Fact> facts{{"tablet.name", view.name}};
  if (view.key.empty()) return facts;
  facts.push_back({"tablet.key", view.key});
  facts.push_back({"tablet.version", view.version});
  facts.push_back(
      {"tablet.records", pen.words.fill("tablet.records_in", {view.records, view.records_size})});
  facts.push_back({"tablet.free", view.free});
  return facts;
}

float fact_label(const Pen& pen, float width) {
  float label = 0;
  for (const char* key :
       {"tablet.name", "tablet.key", "tablet.version", "tablet.records", "tablet.free"})
    label = std::max(label, touch::text_width(pen.ui, pen.words(key), Font::kBody));
  return std::min(label + pen.ui.mm(4), width * 0.5F);
}

// Beside their labels, unless the key's name would have to be broken.
bool facts_beside(const Pen& pen, const std::vector<Fact>& facts, float width) {
  const float room = width - fact_label(pen, width);
  return std::ranges::all_of(facts, [&](const Fact& fact) {
    return fact.key != "tablet.key" || touch::text_width(pen.ui, fact.text, Font::kBody) <= room;
  });
}

float fact_height(const Pen& pen, const Fact& fact, float width, bool beside) {
  const float room = beside ? width - fact_label(pen, width) : width;
  const float label = beside ? 0 : touch::line_height(pen.ui, Font::kBody);
  return label + touch::text_height(pen.ui, fact.text, Font::kBody, room);
}

void draw_fact(const Pen& pen, const Rect& rect, const Fact& fact, bool beside) {
  touch::Ui& ui = pen.ui;
  Cutter cut(rect, beside ? Axis::kAcross : Axis::kDown, 0);
  const float label = beside ? fact_label(pen, rect.width()) : touch::line_height(ui, Font::kBody);
  touch::text(ui, cut.take(label),
              {.text = pen.words(fact.key), .tone = Tone::kInkSoft, .down = Align::kStart});
  touch::text(ui, cut.take_rest(), {.text = fact.text, .down = Align::kStart, .lines = 8});
}

std::string glass_words(const Pen& pen, const flow::TabletView& view) {
  return pen.words.fill("tablet.glass_size", {view.diagonal, view.ppi}) + "\n" +
         std::string(pen.words(view.glass_measured ? "tablet.glass_measured" : "tablet.glass_own"));
}

// What a row of everybody's sheet says, and the key that opens its page.
struct Door {
  std::string_view label;  // of the key
  std::string text;
};

// All as wide as the longest label needs, so that they stand in line.
float door_width(const Pen& pen) {
  float widest = 0;
  for (const char* key :
       {"tablet.measure", "tablet.scale", "tablet.cautions", "tablet.code", "practice.title"})
    widest = std::max(widest, touch::text_width(pen.ui, pen.words(key), Font::kLabel));
  return widest + pen.ui.mm(6);
}

float door_height(const Pen& pen, const Door& door, float width) {
  const float words = width - door_width(pen) - pen.ui.mm(4);
  return std::max(pen.ui.mm(15), touch::text_height(pen.ui, door.text, Font::kBody, words));
}

bool draw_door(const Pen& pen, const Rect& rect, const Door& door) {
  touch::Ui& ui = pen.ui;
  Cutter across(rect, Axis::kAcross, ui.mm(4));
  const Rect place = across.take_end(door_width(pen));
  const bool opened = touch::key(ui, touch::centred(place, place.width(), ui.mm(15)),
                                 {.label = door.label, .halo = ui.mm(kBetweenMm / 2)});
  touch::text(ui, across.take_rest(), {.text = door.text, .lines = 8});
  return opened;
}

Door practice_door(const Pen& pen, const flow::PracticeOffer& offer) {
  const char* const words = offer.drilled ? "tablet.practice.drilled" : "tablet.practice.broadcast";
  return {pen.words("practice.title"), pen.words.fill(words, {offer.trial_code})};
}

std::string scale_words(const Pen& pen, const flow::TabletView& view) {
  return view.port.empty() ? std::string(pen.words("tablet.scale_none"))
                           : pen.words.fill("tablet.scale_at", {view.port});
}

float draw_everybody(const Pen& pen, const Rect& area, const flow::TabletView& view,
                     const std::vector<flow::PreferenceView>& rows) {
  touch::Ui& ui = pen.ui;
  const float inner = area.width() - ui.mm(8);
  const float between = ui.mm(kBetweenMm);
  const float title = touch::line_height(ui, Font::kLabel);
  const Door glass{pen.words("tablet.measure"), glass_words(pen, view)};
  const Door scale{pen.words("tablet.scale"), scale_words(pen, view)};
  const Door cautions{pen.words("tablet.cautions"), std::string(pen.words("tablet.cautions_text"))};
  const Door code{pen.words("tablet.code"), std::string(pen.words("tablet.code_text"))};
  const std::vector<Fact> facts = facts_of(pen, view);
  const bool beside = facts_beside(pen, facts, inner);
  float height = ui.mm(7) + title + choices_height(pen, rows, inner) +
                 door_height(pen, glass, inner) + door_height(pen, scale, inner) +
                 door_height(pen, cautions, inner) + 5 * between;
  if (!view.key.empty()) height += door_height(pen, code, inner) + between;
  for (const flow::PracticeOffer& offer : view.practice)
    height += door_height(pen, practice_door(pen, offer), inner) + between;
  for (const Fact& fact : facts) height += fact_height(pen, fact, inner, beside) + between;
  (void)touch::sheet(ui, {area.left, area.top, area.right, area.top + height});
  Sheet sheet(pen, area.left, area.width(), area.top + ui.mm(4));
  line(pen, sheet.take(title), pen.words("tablet.everybody"), {Font::kLabel});
  draw_choices(pen, sheet, rows);
  // First: it is for before each rating, the others are set once.
  for (const flow::PracticeOffer& offer : view.practice) {
    auto group = ui.group(offer.trial_code);
    const Door door = practice_door(pen, offer);
    if (draw_door(pen, sheet.take(door_height(pen, door, inner)), door))
      pen.send(flow::ShowPractice{offer.trial, offer.occasion});
  }
  if (draw_door(pen, sheet.take(door_height(pen, glass, inner)), glass))
    pen.send(flow::MeasureGlass{});
  if (draw_door(pen, sheet.take(door_height(pen, scale, inner)), scale))
    pen.send(flow::ShowScale{});
  if (draw_door(pen, sheet.take(door_height(pen, cautions, inner)), cautions))
    pen.send(flow::ShowCautions{});
  if (!view.key.empty() && draw_door(pen, sheet.take(door_height(pen, code, inner)), code))
    pen.send(flow::ShowKey{});
  (void)sheet.take(0);
  for (const Fact& fact : facts)
    draw_fact(pen, sheet.take(fact_height(pen, fact, sheet.width(), beside)), fact, beside);
  return area.top + height;
}

void draw_sheets(const Pen& pen, const Rect& rect, const flow::TabletView& view) {
  touch::Ui& ui = pen.ui;
  std::vector<flow::PreferenceView> own;
  std::vector<flow::PreferenceView> shared;
  for (const flow::PreferenceView& row : view.preferences)
    (of_everybody(row.what) ? shared : own).push_back(row);
  auto scroll = ui.scroll("tablet", rect);
  const Rect& area = scroll.area();
  const float half = (area.width() - ui.gap()) / 2;
  if (!ui.portrait() && form_of(pen, own, half - ui.mm(8)).fits) {
    (void)draw_person(pen, {area.left, area.top, area.left + half, area.bottom}, view, own);
    (void)draw_everybody(pen, {area.right - half, area.top, area.right, area.bottom}, view, shared);
    return;
  }
  const float middle = draw_person(pen, area, view, own);
  (void)draw_everybody(pen, {area.left, middle + ui.gap(), area.right, area.bottom}, view, shared);
}

// --- the size of the glass

// The bar: as long as a bank card, its ends strong lines that a card's edges are held against.
void draw_bar(const Pen& pen, const Rect& rect, const flow::GlassView& glass) {
  touch::Ui& ui = pen.ui;
  const float length = std::min(static_cast<float>(glass.bar_px), rect.width());
  const float height = std::min(rect.height(), length * 0.63F);  // a card's, where there is room
  const float top = rect.centre().y - height / 2;
  const Rect bar{rect.left, top, rect.left + length, top + height};
  const touch::Canvas paint = ui.canvas();
  paint.fill(bar, Tone::kDoneWash, ui.mm(1.5));
  const float edge = ui.mm(0.7);
  for (const float x : {bar.left, bar.right - edge})
    paint.fill({x, bar.top - ui.mm(1.5), x + edge, bar.bottom + ui.mm(1.5)}, Tone::kInk);
  const float y = bar.centre().y;
  const float tip = ui.mm(3);
  paint.line({bar.left, y}, {bar.right, y}, Tone::kInk, edge);
  for (const float way : {-1.0F, 1.0F}) {
    const float x = way < 0 ? bar.left + edge : bar.right - edge;
    paint.line({x, y}, {x - way * tip, y - tip * 0.8F}, Tone::kInk, edge);
    paint.line({x, y}, {x - way * tip, y + tip * 0.8F}, Tone::kInk, edge);
  }
  touch::Widget widget;
  widget.kind = touch::Kind::kShape;
  widget.label = "card";
  widget.drawn = bar;
  ui.enter(std::move(widget));
}

void draw_steps(const Pen& pen, const Rect& rect, const flow::GlassView& glass) {
  constexpr int kFar = 16;  // fine steps: 3.5 mm of a card
  struct Step {
    std::string_view key;
    int by;
  };
  constexpr Step kSteps[] = {{"glass.much_shorter", -kFar},
                             {"glass.shorter", -1},
                             {"glass.longer", 1},
                             {"glass.much_longer", kFar}};
  const auto places = touch::split(rect, Axis::kAcross, std::size(kSteps), pen.ui.gap());
  for (std::size_t n = 0; n < std::size(kSteps); ++n) {
    const Step& step = kSteps[n];
    const touch::Key key{.label = pen.words(step.key),
                         .enabled = step.by < 0 ? glass.can_smaller : glass.can_larger};
    if (touch::key(pen.ui, places[n], key)) pen.send(flow::StepGlass{step.by});
  }
}

void draw_measuring(const Pen& pen, Cutter& down, const flow::GlassView& glass) {
  touch::Ui& ui = pen.ui;
  const auto low = touch::split(down.take_end(ui.key()), Axis::kAcross, 2, ui.gap());
  const bool left = ui.left_handed();
  if (touch::key(ui, low[left ? 0 : 1],
                 {.label = pen.words("glass.fits"), .style = Style::kAction}))
    pen.send(flow::KeepGlass{});
  if (touch::key(ui, low[left ? 1 : 0], {.label = pen.words("glass.own")}))
    pen.send(flow::OwnGlass{});
  draw_steps(pen, down.take_end(ui.key()), glass);
  const std::string_view how = pen.words("glass.how");
  const float tall = touch::text_height(ui, how, Font::kBody, down.rest().width());
  touch::text(ui, down.take(tall), {.text = how, .down = Align::kStart, .lines = 6});
  draw_bar(pen, down.take_rest().grown(-ui.mm(2)), glass);
}

std::string_view title_key(const flow::TabletView& view) {
  if (view.glass) return "glass.title";
  if (view.scale) return "scale.title";
  if (view.shown_key) return "tablet.key";
  return view.cautions.empty() ? "tablet.title" : "tablet.cautions";
}

}  // namespace

void draw_tablet(const Pen& pen, const flow::TabletView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Tablet");
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  const bool page = view.glass || view.scale || view.shown_key || !view.cautions.empty();
  const Title title{.title = pen.words(title_key(view)), .back = true};
  flow::HeadView head = view.head;
  head.initials.clear();  // they stand on the sheet, with the key that hands over
  if (draw_head(pen, down.take(touch::head_height(ui)), title, head)) {
    if (page)
      pen.send(flow::ShowTablet{});
    else
      pen.send(flow::ShowToday{});
  }
  if (view.glass)
    draw_measuring(pen, down, *view.glass);
  else if (!view.cautions.empty())
    draw_cautions_page(pen, down.take_rest(), view.cautions);
  else if (view.scale)
    draw_scale_setup(pen, down.take_rest(), *view.scale);
  else if (view.shown_key)
    draw_key_page(pen, down.take_rest(), *view.shown_key);
  else
    draw_sheets(pen, down.take_rest(), view);
}

}  // namespace ligule::screens
