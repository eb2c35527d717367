// The scale's port: which one, how it speaks, and what comes from it while that is tried.
#include <algorithm>

#include "app/screens/load.h"
#include "app/screens/preference_words.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Tone;

namespace {

constexpr double kKeyMm = 13;
constexpr double kBetweenKeysMm = 2.3;

// A long name without its middle: where it begins and ends tells ports apart.
std::string without_middle(const touch::Ui& ui, const std::string& name, float width) {
  if (touch::text_width(ui, name, Font::kStrong) <= width) return name;
  for (std::size_t kept = name.size() - 1; kept > 2; --kept) {
    const std::size_t front = (kept + 1) / 2;
    std::string shorter =
        name.substr(0, front) + "\u2026" + name.substr(name.size() - (kept - front));
    if (touch::text_width(ui, shorter, Font::kStrong) <= width) return shorter;
  }
  return name;
}

// How the keys of a row lie: as many across as their words allow.
struct Grid {
  std::size_t columns = 1;
  std::size_t lines = 1;
};
Grid grid_of(const Pen& pen, const flow::PreferenceView& row, float width) {
  float widest = pen.ui.mm(14);
  for (const flow::OptionView& option : row.options)
    widest = std::max(widest,
                      touch::text_width(pen.ui, option_name(pen, row.what, option), Font::kStrong) +
                          pen.ui.mm(5));
  const float between = pen.ui.mm(kBetweenKeysMm);
  const auto fit = static_cast<std::size_t>((width + between) / (widest + between));
  const std::size_t columns = std::clamp<std::size_t>(fit, 1, row.options.size());
  const std::size_t lines = (row.options.size() + columns - 1) / columns;
  // Lines of about one length.
  return {(row.options.size() + lines - 1) / lines, lines};
}

float label_height(const Pen& pen, const flow::PreferenceView& row, float width) {
  return touch::text_height(pen.ui, preference_name(pen, row.what), Font::kBody, width);
}

float row_height(const Pen& pen, const flow::PreferenceView& row, float width) {
  const auto lines = static_cast<float>(grid_of(pen, row, width).lines);
  return label_height(pen, row, width) + lines * pen.ui.mm(kKeyMm + kBetweenKeysMm);
}

void draw_row(const Pen& pen, const Rect& rect, const flow::PreferenceView& row) {
  touch::Ui& ui = pen.ui;
  const std::string_view label = preference_name(pen, row.what);
  auto group = ui.group(label);
  const Grid grid = grid_of(pen, row, rect.width());
  Cutter down(rect, Axis::kDown, ui.mm(kBetweenKeysMm));
  touch::text(ui, down.take(label_height(pen, row, rect.width())),
              {.text = label, .tone = Tone::kInkSoft, .lines = 3});
  for (std::size_t at = 0; at < row.options.size(); at += grid.columns) {
    const auto places =
        touch::split(down.take(ui.mm(kKeyMm)), Axis::kAcross, grid.columns, ui.mm(kBetweenKeysMm));
    for (std::size_t n = 0; n < grid.columns && at + n < row.options.size(); ++n) {
      const flow::OptionView& option = row.options[at + n];
      std::string name = option_name(pen, row.what, option);
      if (row.what == flow::Preference::kScalePort)
        name = without_middle(ui, name, places[n].width() - ui.mm(5));
      name += "##" + option.code;
      if (touch::key(ui, places[n],
                     {.label = name,
                      .selected = option.selected,
                      .font = Font::kStrong,
                      .halo = ui.mm(kBetweenKeysMm / 2)}))
        pen.send(flow::Choose{row.what, option.code});
    }
  }
}

void draw_rows(const Pen& pen, const Rect& rect, const flow::ScaleView& scale) {
  touch::Ui& ui = pen.ui;
  auto scroll = ui.scroll("scale", rect);
  Cutter down(scroll.area(), Axis::kDown, ui.mm(kBetweenKeysMm));
  for (const flow::PreferenceView& row : scale.rows)
    draw_row(pen, down.take(row_height(pen, row, scroll.area().width())), row);
}

// What is wrong with the port. It is chosen beside it: its name need not be said again.
std::string fault_words(const Pen& pen, const flow::LoadView& load) {
  if (!load.fault) return {};
  Error without_place = *load.fault;
  without_place.where.clear();
  return pen.words.error(without_place);
}

// As high as the sheet is with the load's number, or with words alone.
float load_height(const touch::Ui& ui, const flow::LoadView& load) {
  return ui.mm(load.shown.empty() ? 30 : 36);
}

float heard_height(const Pen& pen, const flow::LoadView& load, float width) {
  const touch::Ui& ui = pen.ui;
  float height = load_height(ui, load) + touch::line_height(ui, Font::kBody) +
                 touch::line_height(ui, Font::kStrong) + ui.mm(2);
  // Large words may stand in the usual size.
  const Font font = ui.look().large_text ? Font::kCaption : Font::kBody;
  if (load.fault) height += touch::text_height(ui, fault_words(pen, load), font, width) + ui.mm(1);
  return height;
}

// What the indicator sends, as it is: whoever sets the form looks at it.
void draw_heard(const Pen& pen, const Rect& rect, const flow::LoadView& load) {
  touch::Ui& ui = pen.ui;
  Cutter down(rect, Axis::kDown, ui.mm(1));
  const float lacking = std::max(0.0F, heard_height(pen, load, rect.width()) - rect.height());
  draw_load(pen, down.take(load_height(ui, load) - lacking), load);
  line(pen, down.take(touch::line_height(ui, Font::kBody)), pen.words("load.line"),
       {Font::kBody, Tone::kInkSoft});
  touch::text(ui, down.take(touch::line_height(ui, Font::kStrong)),
              {.text = load.raw.empty() ? pen.words("load.no_line") : std::string_view(load.raw),
               .font = Font::kStrong,
               .may_cut = true});
  if (!load.fault) return;
  touch::text(ui, down.take_rest(),
              {.text = fault_words(pen, load), .down = Align::kStart, .lines = 8});
}

}  // namespace

void draw_scale_setup(const Pen& pen, const Rect& rect, const flow::ScaleView& scale) {
  touch::Ui& ui = pen.ui;
  if (scale.load.state == flow::LoadState::kNoScale) {
    Cutter down(rect, Axis::kDown, ui.gap());
    const std::string_view how = pen.words("scale.how");
    touch::text(ui, down.take(touch::text_height(ui, how, Font::kBody, rect.width())),
                {.text = how, .down = Align::kStart, .lines = 6});
    return draw_rows(pen, down.take_rest(), scale);
  }
  if (ui.portrait()) {
    Cutter down(rect, Axis::kDown, ui.gap());
    draw_heard(pen, down.take(heard_height(pen, scale.load, rect.width())), scale.load);
    return draw_rows(pen, down.take_rest(), scale);
  }
  Cutter across(rect, Axis::kAcross, ui.gap());
  const float side = rect.width() * 0.4F;
  draw_heard(pen, ui.left_handed() ? across.take_end(side) : across.take(side), scale.load);
  draw_rows(pen, across.take_rest(), scale);
}

}  // namespace ligule::screens
