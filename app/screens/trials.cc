// Trials: what is on this tablet, one trial's page, and a plan from a stick.
#include <algorithm>
#include <array>
#include <optional>
#include <vector>

#include "app/screens/passages.h"
#include "app/screens/stick_row.h"
#include "app/screens/trials_parts.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Point;
using touch::Rect;
using touch::Shape;
using touch::Style;
using touch::Tone;

namespace {

// --- the list ---

constexpr double kOpenKey = 28;  // millimetres
constexpr double kRowMargin = 3;
constexpr double kTrialRowAir = 4;

std::array<Passage, 3> row_words(const Pen& pen, const flow::TrialListRow& row) {
  return {{{pen.words.fill("today.trial", {row.code, row.title}), Font::kLabel},
           {pen.words.fill("trials.place", {row.field, row.site, row.sown})},
           {pen.words.fill("trials.size", {number(row.entries), number(row.plots)}), Font::kBody,
            Tone::kInkSoft}}};
}

float row_height(const Pen& pen, const flow::TrialListRow& row, float width) {
  const touch::Ui& ui = pen.ui;
  const float words = width - ui.mm(2 * kRowMargin + kOpenKey + kTrialRowAir);
  return ui.mm(2 * kRowMargin) +
         std::max(ui.mm(16), passages_height(pen, row_words(pen, row), words));
}

void draw_trial_row(const Pen& pen, const Rect& rect, const flow::TrialListRow& row) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group(row.code);
  (void)touch::sheet(ui, rect);
  Cutter across(rect.grown(-ui.mm(kRowMargin)), Axis::kAcross, ui.mm(kTrialRowAir));
  const float width = ui.mm(kOpenKey);
  Rect side = ui.left_handed() ? across.take(width) : across.take_end(width);
  side = touch::centred(side, width, std::min(side.height(), ui.mm(22)));
  const bool opened = touch::key(ui, side, {.label = pen.words("trials.open")});
  const Rect words = across.take_rest();
  const auto passages = row_words(pen, row);
  if (touch::sheet_part(ui, words, passages[0].text) || opened)
    pen.send(flow::ShowTrial{row.trial});
  draw_passages(pen, words, passages);
}

void draw_list(const Pen& pen, Cutter& down, const flow::TrialListView& view) {
  touch::Ui& ui = pen.ui;
  if (touch::key(ui, down.take_end(ui.mm(16)), {.label = pen.words("trials.load")}))
    pen.send(flow::LookForPlans{});
  if (view.rows.empty() && !view.stick.any()) {
    touch::text(ui, down.take_rest(),
                {.text = pen.words("trials.none"), .down = Align::kStart, .lines = 4});
    return;
  }
  auto scroll = ui.scroll("trials", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.gap());
  if (view.stick.any())
    draw_stick_row(
        pen, rows.take(stick_row_height(pen, view.stick, scroll.area().width(), ui.mm(kOpenKey))),
        view.stick, ui.mm(kOpenKey));
  for (const flow::TrialListRow& row : view.rows)
    draw_trial_row(pen, rows.take(row_height(pen, row, scroll.area().width())), row);
}

// --- one trial ---

void draw_tabs(const Pen& pen, const Rect& rect, const flow::TrialPageView& view) {
  auto group = pen.ui.group("Tab");
  constexpr std::array<std::pair<flow::TrialTab, std::string_view>, 4> kTabs{
      {{flow::TrialTab::kPlots, "trials.plots"},
       {flow::TrialTab::kEntries, "trials.entries"},
       {flow::TrialTab::kEvents, "trials.events"},
       {flow::TrialTab::kSoil, "trials.soil"}}};
  const std::size_t shown = view.soil_tested ? kTabs.size() : kTabs.size() - 1;
  const auto cells = touch::split(rect, Axis::kAcross, shown, pen.ui.gap());
  auto one_size = pen.ui.same_size("tabs");
  for (std::size_t n = 0; n < shown; ++n)
    if (touch::key(pen.ui, cells[n],
                   {.label = pen.words(kTabs[n].second),
                    .selected = view.tab == kTabs[n].first,
                    .font = Font::kStrong}))
      pen.send(flow::ShowTrialTab{kTabs[n].first});
}

// What the signs on plots mean; only those that are there, as many beside each other as fit.
void draw_sown_legend(const Pen& pen, Cutter& down, const flow::TrialPageView& view) {
  touch::Ui& ui = pen.ui;
  const float sign = ui.mm(6);
  const float height = std::max(sign, touch::line_height(ui, Font::kBody));
  std::optional<Cutter> across;
  for (const AsSownStatus status : kSownStatuses) {
    const bool there = std::ranges::any_of(
        view.plots, [&](const flow::SownPlot& plot) { return plot.status == status; });
    if (!there) continue;
    const std::string_view words = pen.words(sown_key(status));
    const float width = sign + ui.mm(1.6) + touch::text_width(ui, words, Font::kBody) + 1;
    if (!across || across->left_over() < width)
      across.emplace(down.take(height), Axis::kAcross, ui.mm(4));
    Cutter entry(across->take(width), Axis::kAcross, ui.mm(1.6));
    ui.canvas().shape(shape_of(status), touch::centred(entry.take(sign), sign, sign));
    line(pen, entry.take_rest(), words);
  }
}

// The room a plot's key needs: its number beside a sign, and the entry's code below.
Point plot_key_size(const touch::Ui& ui, const flow::TrialPageView& view) {
  float number_width = 0;
  float note_width = 0;
  for (const flow::SownPlot& plot : view.plots) {
    number_width = std::max(number_width, touch::text_width(ui, plot.plot, Font::kStrong));
    note_width = std::max(note_width, touch::text_width(ui, plot.entry, Font::kBody));
  }
  return {std::max({ui.mm(19), number_width + ui.mm(13), note_width + ui.mm(4)}),
          std::max(ui.mm(15), touch::line_height(ui, Font::kStrong) +
                                  touch::line_height(ui, Font::kBody) + ui.mm(5))};
}

void draw_plots(const Pen& pen, Cutter& down, const flow::TrialPageView& view) {
  touch::Ui& ui = pen.ui;
  const std::string_view hint = pen.words("trials.tap_plot");
  touch::text(ui, down.take(touch::text_height(ui, hint, Font::kBody, down.rest().width())),
              {.text = hint, .tone = Tone::kInkSoft, .lines = 3});
  auto scroll = ui.scroll("plots", down.take_rest());
  Cutter rest(scroll.area(), Axis::kDown, ui.gap());
  draw_sown_legend(pen, rest, view);
  auto group = ui.group("Plots");
  const Point least = plot_key_size(ui, view);
  const auto columns = std::max<std::size_t>(
      1, static_cast<std::size_t>((rest.rest().width() + ui.gap()) / (least.x + ui.gap())));
  std::size_t column = columns;
  std::vector<Rect> cells;
  for (const flow::SownPlot& plot : view.plots) {
    // Every lane of the plot path begins a line of its own.
    if (column == columns || plot.lane_start) {
      cells = touch::split(rest.take(least.y), Axis::kAcross, columns, ui.gap());
      column = 0;
    }
    touch::Key key{.label = plot.plot, .note = plot.entry, .font = Font::kStrong};
    if (plot.status) key.shape = shape_of(*plot.status);
    if (plot.status) key.note = {};
    if (touch::key(ui, cells[column++], key)) pen.send(flow::StatePlot{plot.plot});
  }
}

// How it is known: what a name says of the endophyte is only as good as that.
std::string endophyte_words(const Pen& pen, const flow::EndophyteFact& fact) {
  if (fact.percent.empty())
    return fact.tested.empty() ? std::string(pen.words("trials.endophyte_stated"))
                               : pen.words.fill("trials.endophyte_unknown", {fact.tested});
  if (fact.tested.empty()) return pen.words.fill("trials.endophyte_found", {fact.percent});
  return pen.words.fill("trials.endophyte_tested", {fact.percent, fact.tested});
}

void draw_entries(const Pen& pen, Cutter& down, const flow::TrialPageView& view) {
  touch::Ui& ui = pen.ui;
  if (view.names_hidden) {
    const std::string_view why = pen.words("trials.names_hidden");
    const float key = ui.mm(38);
    const float words = down.rest().width() - key - ui.gap();
    const float height = std::max(ui.mm(16), touch::text_height(ui, why, Font::kBody, words));
    Cutter across(down.take(height), Axis::kAcross, ui.gap());
    const Rect place = across.take_end(key);
    if (touch::key(ui, touch::centred(place, key, ui.mm(16)),
                   {.label = pen.words("trials.show_names"),
                    .enabled = view.can_enter,
                    .font = Font::kStrong}))
      pen.send(flow::ShowNames{});
    touch::text(ui, across.take_rest(), {.text = why, .lines = 12});
  }
  auto scroll = ui.scroll("entries", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.mm(1.5));
  for (const flow::EntryRow& entry : view.entries) {
    const std::string name = entry.label.empty() ? std::string(pen.words("trials.hidden"))
                             : entry.check       ? pen.words.fill("trials.check", {entry.label})
                                                 : entry.label;
    const std::string about =
        pen.words.fill("trials.entry", {pen.words.name(entry.species), number(entry.plots)});
    const std::string endophyte = entry.endophyte ? endophyte_words(pen, *entry.endophyte) : "";
    std::vector<Passage> words{{name, Font::kStrong}, {about, Font::kBody, Tone::kInkSoft}};
    if (!endophyte.empty()) words.push_back({endophyte, Font::kBody, Tone::kInkSoft});
    constexpr double kMargin = 2;  // millimetres, as the next two
    constexpr double kCode = 24;
    constexpr double kAir = 4;
    const float width = scroll.area().width() - ui.mm(2 * kMargin + kCode + kAir);
    const Rect rect = rows.take(passages_height(pen, words, width) + ui.mm(2 * kMargin));
    ui.canvas().fill(rect, Tone::kCard, ui.mm(2));
    Cutter across(rect.grown(-ui.mm(kMargin)), Axis::kAcross, ui.mm(kAir));
    line(pen, across.take(ui.mm(kCode)), entry.code, {Font::kLabel});
    draw_passages(pen, across.take_rest(), words);
  }
}

std::string taken_back_words(const Pen& pen, const flow::EventRow& event) {
  if (!event.taken_back) return {};
  const std::string key = "reason." + event.taken_back->reason;
  const std::string why =
      pen.words.has(key) ? std::string(pen.words(key)) : event.taken_back->reason;
  return pen.words.fill("event.taken_back",
                        {event.taken_back->on, event.taken_back->initials, why});
}

// One that was taken back says so first, and stays to be read.
void draw_event_row(const Pen& pen, Cutter& rows, const flow::EventRow& event) {
  touch::Ui& ui = pen.ui;
  const std::string head = event_head(pen, event);
  const std::string back = taken_back_words(pen, event);
  const std::string facts = event_facts(pen, event);
  const float key = event.taken_back ? 0 : ui.mm(32);
  const float sign = event.taken_back ? ui.mm(7) : 0;
  const float width = rows.rest().width() - ui.mm(6) - std::max(key, sign) - ui.mm(3);
  const auto height = [&](std::string_view text, Font font) {
    return text.empty() ? 0 : touch::text_height(ui, text, font, width);
  };
  const float words_height = height(back, Font::kStrong) + height(head, Font::kStrong) +
                             height(facts, Font::kBody) + height(event.words, Font::kBody) +
                             ui.mm(5);
  const Rect rect = rows.take(std::max(words_height, key > 0 ? ui.mm(18) : 0));
  ui.canvas().fill(rect, Tone::kCard, ui.mm(2));
  Cutter across(rect.grown(-ui.mm(2)), Axis::kAcross, ui.mm(3));
  if (key > 0) {
    const Rect side = ui.left_handed() ? across.take(key) : across.take_end(key);
    auto group = ui.group(event_name(pen, event));
    if (touch::key(ui, touch::centred(side, key, ui.mm(14)),
                   {.label = std::string(pen.words("event.take_back")) + "##" + event.id.text(),
                    .enabled = event.can_take_back,
                    .font = Font::kStrong}))
      pen.send(flow::ShowEventBack{event.id});
  } else {
    ui.canvas().shape(Shape::kLost, touch::centred(across.take(sign), sign, sign));
  }
  Cutter words(across.take_rest(), Axis::kDown, 0);
  const Tone tone = event.taken_back ? Tone::kInkSoft : Tone::kInk;
  const auto paragraph = [&](const std::string& text, Font font, Tone ink) {
    if (text.empty()) return;
    touch::text(ui, words.take(height(text, font)),
                {.text = text, .font = font, .tone = ink, .down = Align::kStart, .lines = 12});
  };
  paragraph(back, Font::kStrong, Tone::kInk);
  paragraph(head, Font::kStrong, tone);
  paragraph(facts, Font::kBody, tone);
  paragraph(event.words, Font::kBody, tone);
}

void draw_events(const Pen& pen, Cutter& down, const flow::TrialPageView& view) {
  touch::Ui& ui = pen.ui;
  if (touch::key(ui, down.take_end(ui.mm(16)),
                 {.label = pen.words("trials.new_event"), .style = Style::kAction}))
    pen.send(flow::NewEvent{});
  if (view.loaded && view.events.empty()) {
    touch::text(ui, down.take_rest(),
                {.text = pen.words("trials.no_events"), .down = Align::kStart, .lines = 3});
    return;
  }
  auto scroll = ui.scroll("events", down.take_rest());
  Cutter rows(scroll.area(), Axis::kDown, ui.mm(1.5));
  for (const flow::EventRow& event : view.events) draw_event_row(pen, rows, event);
}

void draw_page(const Pen& pen, Cutter& down, const flow::TrialPageView& view) {
  draw_tabs(pen, down.take(pen.ui.mm(14)), view);
  if (view.tab == flow::TrialTab::kPlots) draw_plots(pen, down, view);
  if (view.tab == flow::TrialTab::kEntries) draw_entries(pen, down, view);
  if (view.tab == flow::TrialTab::kEvents) draw_events(pen, down, view);
  if (view.tab == flow::TrialTab::kSoil) draw_soil(pen, down, view.soil);
}

// --- a plan from a stick ---

// Every fault or notice, as what, where and how to mend.
void draw_findings(const Pen& pen, const Rect& rect, const std::vector<Error>& findings) {
  touch::Ui& ui = pen.ui;
  auto scroll = ui.scroll("findings", rect);
  Cutter rows(scroll.area(), Axis::kDown, ui.mm(2));
  for (const Error& finding : findings) {
    const std::string text = pen.words.error(finding);
    const float height = touch::text_height(ui, text, Font::kBody, rows.rest().width());
    touch::text(ui, rows.take(height), {.text = text, .down = Align::kStart, .lines = 20});
  }
}

// What a revision changes, then what is odd about the plan.
void draw_told(const Pen& pen, const Rect& rect, const flow::PlanCheckedView& view) {
  std::vector<Passage> told;
  for (const std::string& reason : view.reasons) {
    const char* const key = told.empty() ? "plan.reason" : "plan.then_reason";
    told.push_back({pen.words.fill(key, {reason}), Font::kStrong});
  }
  if (!view.changes.empty()) {
    told.push_back({std::string(pen.words("plan.changes")), Font::kStrong});
    for (const flow::Words& change : view.changes) told.push_back({pen.words.fill(change)});
    told.push_back({std::string(pen.words("plan.values_stay")), Font::kBody, Tone::kInkSoft});
  }
  if (!view.notices.empty())
    told.push_back({std::string(pen.words("plan.notices")), Font::kStrong});
  for (const Error& notice : view.notices) told.push_back({pen.words.error(notice)});
  if (told.empty()) return;
  auto scroll = pen.ui.scroll("findings", rect);
  Cutter rows(scroll.area(), Axis::kDown, pen.ui.mm(2));
  draw_apart(pen, rows, told);
}

// The way on from a plan: it is taken in, or a newer one is looked at in its place.
void draw_plan_key(const Pen& pen, const Rect& rect, const flow::PlanCheckedView& view) {
  touch::Key key{.style = Style::kAction};
  if (!view.newer.empty()) {
    key.label = pen.words("plan.newer");
    if (touch::key(pen.ui, rect, key)) pen.send(flow::CheckPlan{view.newer});
    return;
  }
  key.label = pen.words(view.revision ? "plan.revise" : "plan.load");
  key.enabled = view.can_load;
  if (touch::key(pen.ui, rect, key)) pen.send(flow::LoadPlan{});
}

// How the plan stands to those that are here, and beside it.
std::string plan_state(const Pen& pen, const flow::PlanCheckedView& view) {
  if (view.older) return std::string(pen.words("plan.older_here"));
  if (!view.newer.empty()) return pen.words.fill("plan.older_there", {view.newer_name});
  return std::string(pen.words(view.held ? "plan.held" : "plan.sound"));
}

void draw_checked(const Pen& pen, Cutter& down, const flow::PlanCheckedView& view) {
  touch::Ui& ui = pen.ui;
  draw_plan_key(pen, down.take_end(ui.key()), view);
  const std::string title = pen.words.fill("today.trial", {view.code, view.title});
  touch::text(ui, down.take(touch::text_height(ui, title, Font::kHead, down.rest().width())),
              {.text = title, .font = Font::kHead, .lines = 4});
  // What a revision changes needs the room.
  if (!view.changes.empty()) return draw_told(pen, down.take_rest(), view);
  const std::string size = pen.words.fill(
      "plan.size", {number(view.entries), number(view.plots), number(view.occasions)});
  touch::text(ui, down.take(touch::text_height(ui, size, Font::kBody, down.rest().width())),
              {.text = size, .lines = 3});
  const std::string state = plan_state(pen, view);
  const bool older = view.older || !view.newer.empty();
  touch::Banner banner{.text = state, .mood = touch::Mood::kDone, .shape = Shape::kDone};
  if (view.held) banner.mood = touch::Mood::kCalm;
  if (older) {
    banner.mood = touch::Mood::kAsk;
    banner.shape = Shape::kQuestioned;
  }
  touch::banner(ui, down.take(touch::banner_height(ui, banner, down.rest().width())), banner);
  draw_told(pen, down.take_rest(), view);
}

void draw_faulty(const Pen& pen, Cutter& down, std::string_view key,
                 const std::vector<Error>& faults) {
  touch::Ui& ui = pen.ui;
  const std::string text = pen.words.count(key, static_cast<std::int64_t>(faults.size()));
  const touch::Banner banner{.text = text, .mood = touch::Mood::kAsk, .shape = Shape::kQuestioned};
  touch::banner(ui, down.take(touch::banner_height(ui, banner, down.rest().width())), banner);
  draw_findings(pen, down.take_rest(), faults);
}

struct Page {
  const Pen& pen;
  Cutter& down;
  void operator()(const flow::TrialListView& view) const { draw_list(pen, down, view); }
  void operator()(const flow::TrialPageView& view) const { draw_page(pen, down, view); }
  void operator()(const flow::SownFormView& view) const { draw_sown_form(pen, down, view); }
  void operator()(const flow::EventFormView& view) const { draw_event_form(pen, down, view); }
  void operator()(const flow::EventBackView& view) const { draw_event_back(pen, down, view); }
  void operator()(const flow::PlanPickView& view) const { draw_sources(pen, down, view); }
  void operator()(const flow::OfferedCopyView& view) const { draw_offered_copy(pen, down, view); }
  void operator()(const flow::PlanReadingView&) const {
    line(pen, down.take(pen.ui.mm(12)), pen.words("plan.reading"), {Font::kLabel});
  }
  void operator()(const flow::PlanCheckedView& view) const { draw_checked(pen, down, view); }
  void operator()(const flow::PlanFaultyView& view) const {
    draw_faulty(pen, down, "plan.faults", view.faults);
  }
  void operator()(const flow::FileFaultyView& view) const {
    draw_faulty(pen, down, "file.faults", view.faults);
  }
  void operator()(const flow::OfferedFileView& view) const { draw_offered_file(pen, down, view); }
};

struct Titles {
  std::string title;
  std::string note;
  bool note_may_cut = false;
};

struct TitleOf {
  const touch::Ui& ui;
  const Language& words;
  Titles operator()(const flow::TrialListView&) const {
    return {std::string(words("trials.title")), {}};
  }
  Titles operator()(const flow::TrialPageView& view) const { return {view.code, view.title, true}; }
  Titles operator()(const flow::SownFormView& view) const {
    return {words.fill("sown.title", {view.plot}),
            sown_head_has_room(ui) ? sown_stated(words, view) : std::string()};
  }
  Titles operator()(const flow::EventFormView&) const {
    return {std::string(words("event.title")), {}};
  }
  Titles operator()(const flow::EventBackView&) const {
    return {std::string(words("event.back.title")), {}};
  }
  Titles operator()(const flow::PlanPickView&) const {
    return {std::string(words("sources.title")), {}};
  }
  Titles operator()(const flow::OfferedCopyView& view) const {
    return {words.fill("copy.title", {view.copy.device}), view.copy.place};
  }
  Titles operator()(const flow::OfferedFileView& view) const { return {view.file.device, {}}; }
  Titles operator()(const flow::FileFaultyView&) const {
    return {std::string(words("sources.title")), {}};
  }
  template <class Plan>
  Titles operator()(const Plan&) const {
    return {std::string(words("plan.title")), {}};
  }
};

}  // namespace

touch::Shape shape_of(AsSownStatus status) {
  switch (status) {
    case AsSownStatus::kAsPlanned:
      return Shape::kDone;
    case AsSownStatus::kHolds:
      return Shape::kOther;
    case AsSownStatus::kUnknown:
      return Shape::kQuestioned;
    case AsSownStatus::kReseeded:
      return Shape::kFlag;
    case AsSownStatus::kAbandoned:
      break;
  }
  return Shape::kLost;
}

bool sown_head_has_room(const touch::Ui& ui) {
  return !ui.portrait() && !ui.look().large_text;
}

std::string sown_stated(const Language& words, const flow::SownFormView& view) {
  if (!view.stated) return std::string(words("sown.none"));
  return words.fill("sown.stated", {words(sown_key(*view.stated)), view.stated_since});
}

std::string_view sown_key(AsSownStatus status) {
  switch (status) {
    case AsSownStatus::kAsPlanned:
      return "sown.as_planned";
    case AsSownStatus::kHolds:
      return "sown.holds";
    case AsSownStatus::kUnknown:
      return "sown.unknown";
    case AsSownStatus::kReseeded:
      return "sown.reseeded";
    case AsSownStatus::kAbandoned:
      break;
  }
  return "sown.abandoned";
}

void draw_trials(const Pen& pen, const flow::TrialsView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Trials");
  Cutter down(full_page(ui), Axis::kDown, ui.gap());
  const Titles titles = std::visit(TitleOf{ui, pen.words}, view.page);
  const float height = std::min(touch::head_height(ui), ui.mm(16));
  if (draw_head(pen, down.take(height),
                {.title = titles.title,
                 .note = titles.note,
                 .note_may_cut = titles.note_may_cut,
                 .back = true},
                view.head))
    pen.send(flow::TrialsBack{});
  std::visit(Page{pen, down}, view.page);
}

}  // namespace ligule::screens
