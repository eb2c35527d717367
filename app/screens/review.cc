// Review: the plots where they lie in the field, and what was ever recorded about one of them.
#include <algorithm>

#include "app/screens/pen.h"
#include "app/screens/review_parts.h"

namespace ligule::screens {

using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;

namespace {

std::string occasion_words(const Pen& pen, std::string_view trial, std::string_view code) {
  return pen.words.fill("review.occasion", {trial, code});
}

void draw_measures(const Pen& pen, const Rect& rect, const flow::ReviewView& view, Axis axis) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Measures");
  auto scroll = ui.scroll("measures", rect, axis);
  const Rect& area = scroll.area();
  float at = axis == Axis::kDown ? area.top : area.left;
  for (const std::string& measure : view.measures) {
    const std::string label = measure_name(pen, measure);
    const touch::Key key{
        .label = label, .selected = measure == view.measure, .font = Font::kStrong};
    Rect cell;
    if (axis == Axis::kDown) {
      cell = {area.left, at, area.right, at + ui.mm(14)};
      at = cell.bottom + ui.gap();
    } else {
      const float width =
          std::max(ui.mm(22), touch::text_width(ui, label, Font::kStrong) + ui.mm(10));
      cell = {area.left + (at - area.left), rect.top, at + width, rect.bottom};
      at = cell.right + ui.gap();
    }
    if (touch::key(ui, cell, key)) pen.send(flow::ReviewMeasure{measure});
  }
}

// In large text the occasion's name takes two lines.
float choice_height(const touch::Ui& ui, double usual_mm) {
  return ui.mm(ui.look().large_text ? 26 : usual_mm);
}

// Which occasion is shown; tapped: the list of others.
void draw_choice(const Pen& pen, const Rect& rect, const flow::ReviewView& view) {
  const std::string label = view.trial_code + "##occasion";  // the key only looks at it
  const touch::Key key{.label = label, .note = view.occasion, .font = Font::kStrong};
  if (touch::key(pen.ui, rect, key)) pen.send(flow::ListOccasions{});
}

// Compare and Slide; nothing slides while others' values are hidden.
std::size_t tools_of(const flow::ReviewView& view) {
  return view.hidden ? 1 : 2;
}

// Values one plot off are seen on the map, best beside another rating, and put right from here.
void draw_tools(const Pen& pen, const Rect& rect, const flow::ReviewView& view,
                const flow::MapView& map, Axis axis) {
  touch::Ui& ui = pen.ui;
  const std::size_t tools = tools_of(view);
  const auto cells = touch::split(rect, axis, tools, ui.gap());
  const bool compares = !map.against.empty();
  const touch::Key compare{.label = pen.words("review.compare"),
                           .note = map.against,
                           .selected = compares,
                           .font = Font::kStrong};
  if (touch::key(ui, cells[0], compare)) {
    if (compares)
      pen.send(flow::ReviewAlone{});
    else
      pen.send(flow::ListAgainst{});
  }
  if (tools > 1 &&
      touch::key(ui, cells[1], {.label = pen.words("review.slide"), .font = Font::kStrong}))
    pen.send(flow::ShowSlide{});
}

// A key under the map, beside its legend where there is room.
struct MapKey {
  std::string label;
  flow::Intent opens;  // unless it shows the whole map, or no longer
  bool selected = false;
  bool whole = false;
};

std::vector<MapKey> map_keys(const Pen& pen, const Rect& usual, const flow::ReviewView& view,
                             const flow::MapView& map) {
  std::vector<MapKey> keys;
  if (view.questions > 0)
    keys.push_back(
        {pen.words.fill("review.to_settle", {number(view.questions)}), flow::ShowQuestions{}});
  if (view.agreement)
    keys.push_back({std::string(pen.words("review.agreement")), flow::ShowAgreement{}});
  if (map_scrolls(pen, usual, map))
    keys.push_back({std::string(pen.words("review.whole")), flow::ShowQuestions{},
                    pen.scratch.whole_map, true});
  return keys;
}

float width_of(const touch::Ui& ui, const MapKey& key) {
  return touch::text_width(ui, key.label, Font::kStrong) + ui.mm(9);
}

// In as many lines as they need side by side.
std::vector<std::vector<MapKey>> in_lines(const touch::Ui& ui, const std::vector<MapKey>& keys,
                                          float width) {
  std::vector<std::vector<MapKey>> lines;
  float left = 0;
  for (const MapKey& key : keys) {
    const float needed = width_of(ui, key) + ui.gap();
    if (lines.empty() || needed > left) {
      lines.emplace_back();
      left = width + ui.gap();
    }
    lines.back().push_back(key);
    left -= needed;
  }
  return lines;
}

void draw_map_keys(const Pen& pen, Cutter& line, const std::vector<MapKey>& keys) {
  touch::Ui& ui = pen.ui;
  for (const MapKey& each : keys) {
    const float width = width_of(ui, each);
    const Rect place = ui.left_handed() ? line.take(width) : line.take_end(width);
    const touch::Key key{.label = each.label, .selected = each.selected, .font = Font::kStrong};
    if (!touch::key(ui, {place.left, place.bottom - ui.mm(13), place.right, place.bottom}, key))
      continue;
    if (each.whole)
      pen.scratch.whole_map = !pen.scratch.whole_map;
    else
      pen.send(each.opens);
  }
}

// The map over its legend; a map with more plots than fit can be seen whole.
void draw_field(const Pen& pen, const Rect& rect, const flow::ReviewView& view,
                const flow::MapView& map) {
  touch::Ui& ui = pen.ui;
  Cutter down(rect, Axis::kDown, ui.gap());
  const float high = std::max(legend_height(pen, map, rect.width()), ui.mm(13));
  const Rect usual{rect.left, rect.top, rect.right, rect.bottom - high - ui.gap()};
  const bool scrolls = map_scrolls(pen, usual, map);
  const std::vector<MapKey> keys = map_keys(pen, usual, view, map);
  float beside = rect.width();
  for (const MapKey& key : keys) beside -= width_of(ui, key) + ui.gap();
  if (keys.empty()) {
    draw_legend(pen, down.take_end(legend_height(pen, map, rect.width())), map);
  } else if (beside >= legend_width(pen, map)) {
    Cutter low(down.take_end(std::max(legend_height(pen, map, beside), ui.mm(13))), Axis::kAcross,
               ui.gap());
    draw_map_keys(pen, low, keys);
    draw_legend(pen, low.take_rest(), map);
  } else {
    draw_legend(pen, down.take_end(legend_height(pen, map, rect.width())), map);
    for (const std::vector<MapKey>& line : in_lines(ui, keys, rect.width())) {
      Cutter low(down.take_end(ui.mm(13)), Axis::kAcross, ui.gap());
      draw_map_keys(pen, low, line);
    }
  }
  if (scrolls && pen.scratch.whole_map)
    draw_whole_map(pen, down.take_rest(), map);
  else
    draw_map(pen, down.take_rest(), map);
}

void draw_map_page(const Pen& pen, const Rect& rect, const flow::ReviewView& view,
                   const flow::MapView& map) {
  touch::Ui& ui = pen.ui;
  if (ui.portrait()) {
    Cutter down(rect, Axis::kDown, ui.gap());
    Cutter top(down.take(choice_height(ui, 16)), Axis::kAcross, ui.gap());
    draw_choice(pen, top.take(std::min(ui.mm(46), rect.width() * 0.4F)), view);
    draw_measures(pen, top.take_rest(), view, Axis::kAcross);
    draw_tools(pen, down.take_end(ui.mm(15)), view, map, Axis::kAcross);
    draw_field(pen, down.take_rest(), view, map);
    return;
  }
  Cutter across(rect, Axis::kAcross, ui.gap());
  const float width = std::max(ui.mm(40), rect.width() * 0.2F);
  Cutter side(ui.left_handed() ? across.take(width) : across.take_end(width), Axis::kDown,
              ui.gap());
  draw_choice(pen, side.take(choice_height(ui, 18)), view);
  const auto tools = static_cast<float>(tools_of(view));
  draw_tools(pen, side.take_end(tools * (ui.mm(15) + ui.gap()) - ui.gap()), view, map, Axis::kDown);
  draw_measures(pen, side.take_rest(), view, Axis::kDown);
  draw_field(pen, across.take_rest(), view, map);
}

void draw_list(const Pen& pen, const Rect& rect, const flow::OccasionListView& list) {
  touch::Ui& ui = pen.ui;
  auto scroll = ui.scroll("occasions", rect);
  const Rect& area = scroll.area();
  const std::size_t columns = area.width() >= ui.mm(150) ? 2 : 1;
  const float height = ui.mm(18);
  for (std::size_t n = 0; n < list.rows.size(); ++n) {
    const flow::OccasionRow& row = list.rows[n];
    const std::size_t line = n / columns;
    const float top = area.top + static_cast<float>(line) * (height + ui.gap());
    const auto cells =
        touch::split({area.left, top, area.right, top + height}, Axis::kAcross, columns, ui.gap());
    auto group = ui.group(row.trial_code);
    const std::string label = occasion_words(pen, row.trial_code, row.code) + "##" + row.code;
    const std::string note =
        pen.words.fill("today.progress", {std::to_string(row.done), std::to_string(row.total)});
    const touch::Key key{
        .label = label, .note = note, .selected = row.chosen, .font = Font::kStrong};
    if (!touch::key(ui, cells[n % columns], key)) continue;
    if (list.against)
      pen.send(flow::ReviewAgainst{row.occasion});
    else
      pen.send(flow::ReviewOccasion{row.trial, row.occasion});
  }
}

// Why values are missing that others gave.
void draw_hidden(const Pen& pen, Cutter& down, const flow::ReviewView& view) {
  if (!view.hidden) return;
  const std::string_view why = pen.words("review.hidden");
  const float height = touch::text_height(pen.ui, why, Font::kStrong, down.rest().width());
  touch::text(pen.ui, down.take(height), {.text = why, .font = Font::kStrong, .lines = 3});
}

}  // namespace

void draw_review(const Pen& plain, const flow::ReviewView& view) {
  Pen pen = plain;
  pen.own_names = &view.own_names;
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Review");
  if (const auto* const mend = std::get_if<flow::MendView>(&view.page))
    return draw_mend(pen, view.head, *mend);
  Cutter down(full_page(ui), Axis::kDown, ui.gap());
  const Rect head = down.take(ui.mm(16.2));
  if (const auto* const history = std::get_if<flow::HistoryView>(&view.page)) {
    const std::string title = pen.words.fill("review.plot", {history->plot});
    if (draw_head(pen, head, {.title = title, .back = true}, view.head))
      pen.send(flow::ReviewBack{});
    draw_hidden(pen, down, view);
    if (view.can_take_back) {
      const Rect strip = down.take_end(ui.mm(16));
      draw_take_back(pen, {strip.right - ui.mm(24), strip.top, strip.right, strip.bottom}, true);
    }
    draw_history(pen, down.take_rest(), *history);
    return;
  }
  const auto* const slide = std::get_if<flow::SlideView>(&view.page);
  const std::string where = occasion_words(pen, view.trial_code, view.occasion);
  std::string_view title = pen.words(slide == nullptr ? "review.title" : "slide.title");
  const auto* const list = std::get_if<flow::OccasionListView>(&view.page);
  if (list != nullptr && list->against) title = pen.words("review.compare_with");
  if (std::holds_alternative<flow::AgreementView>(view.page)) title = pen.words("review.agreement");
  const auto* const questions = std::get_if<flow::QuestionsView>(&view.page);
  std::string which;
  if (questions != nullptr) {
    which = questions->count == 0 ? std::string(pen.words("review.questions"))
                                  : pen.words.fill("questions.title", {number(questions->place),
                                                                       number(questions->count)});
    title = which;
  }
  if (draw_head(pen, head, {.title = title, .back = true}, view.head)) pen.send(flow::ReviewBack{});
  draw_hidden(pen, down, view);
  const auto* const agreement = std::get_if<flow::AgreementView>(&view.page);
  if (agreement != nullptr) return draw_agreement(pen, down.take_rest(), *agreement);
  if (questions != nullptr) return draw_questions(pen, down.take_rest(), *questions);
  if (slide != nullptr) return draw_slide(pen, down.take_rest(), *slide, where);
  if (list != nullptr)
    draw_list(pen, down.take_rest(), *list);
  else
    draw_map_page(pen, down.take_rest(), view, std::get<flow::MapView>(view.page));
}

}  // namespace ligule::screens
