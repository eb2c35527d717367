// Day's end: what is missing or was questioned, then seal, then copy. Each step says what came of
// it before the next one opens.
#include <algorithm>

#include "app/screens/pen.h"
#include "app/screens/plot_runs.h"

namespace ligule::screens {

using touch::Align;
using touch::Axis;
using touch::Cutter;
using touch::Font;
using touch::Rect;
using touch::Shape;
using touch::Style;

namespace {

constexpr int kManyLines = 200;  // the list scrolls: every plot is named

std::string plots(const std::vector<std::string>& numbers) {
  std::string out;
  for (const std::string& plot : numbers) out += (out.empty() ? "" : ", ") + plot;
  return out;
}

std::string items(const Pen& pen, const std::vector<flow::OpenItem>& named,
                  const flow::OwnNames& own) {
  std::vector<std::string> texts;
  texts.reserve(named.size());
  for (const flow::OpenItem& item : named)
    texts.push_back(item.plot + "\u00A0" + measure_name(pen.words, item.measure, own));
  return plots(texts);
}

// One finding of a row: its sign, its words, the plots.
struct Finding {
  Shape shape;
  std::string text;
};

// Whether something was asked about or is on hold.
bool settles(const flow::DayRow& row) {
  return !row.on_hold.empty() || !row.questioned.empty();
}

std::vector<Finding> findings_of(const Pen& pen, const flow::DayRow& row) {
  std::vector<Finding> findings;
  if (!row.open_plots.empty())
    findings.push_back(
        {row.closed ? Shape::kDone : Shape::kOpen,
         pen.words.fill(row.closed ? "days_end.closed" : "days_end.open_plots",
                        {number(row.open_plots.size()), plots(plot_runs(row.open_plots))})});
  if (!row.on_hold.empty())
    findings.push_back({Shape::kHeld, pen.words.fill("days_end.on_hold",
                                                     {items(pen, row.on_hold, row.own_names)})});
  if (!row.not_fresh.empty())
    findings.push_back(
        {Shape::kLater, pen.words.fill("days_end.not_fresh", {plots(row.not_fresh)})});
  if (!row.unsorted.empty())
    findings.push_back({Shape::kLater, pen.words.fill("days_end.unsorted", {plots(row.unsorted)})});
  if (!row.questioned.empty())
    findings.push_back(
        {Shape::kQuestioned,
         pen.words.fill("days_end.questioned", {items(pen, row.questioned, row.own_names)})});
  if (findings.empty())
    findings.push_back({Shape::kDone, std::string(pen.words("days_end.whole"))});
  return findings;
}

float draw_row(const Pen& pen, const Rect& area, float top, const flow::DayRow& row) {
  touch::Ui& ui = pen.ui;
  const auto findings = findings_of(pen, row);
  const float inner = area.width() - ui.mm(8);
  const float sign = ui.mm(6);
  const float words = inner - sign - ui.mm(3);
  const float head = std::max(touch::line_height(ui, Font::kLabel) + ui.mm(1.5 + 5.2),
                              row.can_close || settles(row) ? ui.mm(12.4) : 0.0F);
  float height = ui.mm(6) + head;
  for (const Finding& finding : findings)
    height += std::max(sign, touch::text_height(ui, finding.text, Font::kBody, words)) + ui.mm(1.5);
  const Rect card{area.left, top, area.right, top + height};
  (void)touch::sheet(ui, card);
  Cutter down(
      {card.left + ui.mm(4), card.top + ui.mm(3), card.right - ui.mm(4), card.bottom - ui.mm(3)},
      Axis::kDown, ui.mm(1.5));
  Cutter header(down.take(head), Axis::kAcross, ui.mm(3));
  auto group = ui.group(row.trial_code + "/" + row.code);
  const auto tapped = [&](std::string_view label) {
    const float width = std::max(ui.mm(18), touch::text_width(ui, label, Font::kStrong) + ui.mm(7));
    return touch::key(ui, header.take_end(width), {.label = label, .font = Font::kStrong});
  };
  if (row.can_close && tapped(pen.words("key.close")))
    pen.send(flow::CloseOccasion{row.trial, row.occasion});
  if (settles(row) && tapped(pen.words("review.questions")))
    pen.send(flow::ReviewOccasion{row.trial, row.occasion, true});
  Cutter words_of(header.take_rest(), Axis::kDown, ui.mm(1.5));
  touch::text(ui, words_of.take(touch::line_height(ui, Font::kLabel)),
              {.text = pen.words.fill("days_end.row", {row.trial_code, row.code}),
               .font = Font::kLabel,
               .may_cut = true});
  const double share = row.total == 0 ? 0.0 : static_cast<double>(row.done) / row.total;
  touch::progress(
      ui, words_of.take(ui.mm(5.2)), share,
      pen.words.fill("today.progress", {std::to_string(row.done), std::to_string(row.total)}));
  for (const Finding& finding : findings) {
    const float tall = std::max(sign, touch::text_height(ui, finding.text, Font::kBody, words));
    Cutter across(down.take(tall), Axis::kAcross, ui.mm(3));
    const Rect place = across.take(sign);
    ui.canvas().shape(finding.shape, {place.left, place.top, place.right, place.top + sign});
    touch::text(ui, across.take_rest(), {.text = finding.text, .lines = kManyLines});
  }
  return height;
}

void draw_rows(const Pen& pen, const Rect& rect, const flow::DaysEndView& view) {
  touch::Ui& ui = pen.ui;
  if (view.rows.empty()) {
    if (view.loaded)
      touch::text(ui, rect,
                  {.text = pen.words("days_end.no_work"), .down = Align::kStart, .lines = 3});
    return;
  }
  auto scroll = ui.scroll("rows", rect);
  float top = scroll.area().top;
  for (const flow::DayRow& row : view.rows)
    top += draw_row(pen, scroll.area(), top, row) + ui.gap();
}

// Without the file: the step names the place already, and there is little room.
std::string failure(const Pen& pen, const std::optional<Error>& error) {
  if (!error) return {};
  Error words = *error;
  words.where.clear();
  return pen.words.error(words);
}

bool has_failed(const flow::DaysEndView& view) {
  return view.seal.state == flow::StepState::kFailed || view.copy.state == flow::StepState::kFailed;
}

std::string seal_words(const Pen& pen, const flow::DaysEndView& view) {
  switch (view.seal.state) {
    case flow::StepState::kWaiting:
      return std::string(pen.words("days_end.nothing_to_seal"));
    case flow::StepState::kReady:
      return pen.words.count("days_end.to_seal", view.unsealed);
    case flow::StepState::kBusy:
      return std::string(pen.words("days_end.sealing"));
    case flow::StepState::kDone: {
      const std::string text = pen.words.fill(
          "days_end.sealed", {std::to_string(view.sealed_records), view.seal.file_name});
      // What failed needs the room more than the file's name.
      return has_failed(view) ? text.substr(0, text.find('\n')) : text;
    }
    case flow::StepState::kFailed:
      break;
  }
  return pen.words.fill("days_end.seal_failed", {failure(pen, view.seal.error)});
}

std::string copy_words(const Pen& pen, const flow::DaysEndView& view) {
  const bool sealed = view.seal.state == flow::StepState::kDone;
  switch (view.copy.state) {
    case flow::StepState::kWaiting:
      return std::string(
          pen.words(sealed && view.places.empty() ? "days_end.no_place" : "days_end.copy_after"));
    case flow::StepState::kReady:
      return std::string(
          pen.words(view.places.empty() ? "days_end.no_place" : "days_end.choose_place"));
    case flow::StepState::kBusy:
      return pen.words.fill("days_end.copying", {view.copy.place});
    case flow::StepState::kDone:
      return pen.words.fill("days_end.copied", {view.copy.place});
    case flow::StepState::kFailed:
      break;
  }
  return pen.words.fill("days_end.copy_failed", {view.copy.place, failure(pen, view.copy.error)});
}

Shape step_shape(flow::StepState state) {
  switch (state) {
    case flow::StepState::kDone:
      return Shape::kDone;
    case flow::StepState::kFailed:
      return Shape::kQuestioned;
    case flow::StepState::kBusy:
      return Shape::kNow;
    case flow::StepState::kReady:
    case flow::StepState::kWaiting:
      break;
  }
  return Shape::kOpen;
}

// A step's sign and words; those of a failure can be dragged where they do not fit.
void draw_step(const Pen& pen, const Rect& rect, flow::StepState state, std::string_view text) {
  touch::Ui& ui = pen.ui;
  Cutter across(rect, Axis::kAcross, ui.mm(3));
  const Rect sign = across.take(ui.mm(8));
  ui.canvas().shape(step_shape(state), {sign.left, sign.top, sign.right, sign.top + sign.width()});
  const Rect words = across.take_rest();
  if (state != flow::StepState::kFailed ||
      touch::text_height(ui, text, Font::kBody, words.width()) <= words.height()) {
    touch::text(ui, words, {.text = text, .down = Align::kStart, .lines = 8, .may_cut = true});
    return;
  }
  auto scroll = ui.scroll("failure", words);
  Cutter down(scroll.area(), Axis::kDown, 0);
  const float height = touch::text_height(ui, text, Font::kBody, down.rest().width());
  touch::text(ui, down.take(height), {.text = text, .down = Align::kStart, .lines = 20});
}

void draw_steps(const Pen& pen, const Rect& rect, const flow::DaysEndView& view) {
  touch::Ui& ui = pen.ui;
  Cutter down(rect, Axis::kDown, ui.gap());
  // From the bottom: places to copy to, words of the copy, seal, words of the seal.
  const bool sealed = view.seal.state == flow::StepState::kDone;
  const bool offer = sealed && !view.places.empty() && view.copy.state != flow::StepState::kBusy;
  if (offer) {
    const std::size_t across =
        std::min<std::size_t>(view.places.size(), rect.width() >= ui.mm(90) ? 3 : 1);
    const std::size_t rows = (std::min<std::size_t>(view.places.size(), 3) + across - 1) / across;
    const auto count = static_cast<float>(rows);
    const auto lines = touch::split(down.take_end(count * ui.key() + (count - 1) * ui.gap()),
                                    Axis::kDown, rows, ui.gap());
    for (std::size_t n = 0; n < std::min<std::size_t>(view.places.size(), 3); ++n) {
      const auto cells = touch::split(lines[n / across], Axis::kAcross, across, ui.gap());
      const std::string label = pen.words.fill("days_end.copy_to", {view.places[n].name});
      const bool next = n == 0 && view.copy.state != flow::StepState::kDone;
      if (touch::key(ui, cells[n % across],
                     {.label = label, .style = next ? Style::kAction : Style::kPlain}))
        pen.send(flow::CopyTo{view.places[n].path});
    }
  }
  const auto words_height = [&](std::string_view text) {
    return std::max(ui.mm(8),
                    touch::text_height(ui, text, Font::kBody, down.rest().width() - ui.mm(11)));
  };
  const std::string copy = copy_words(pen, view);
  // Long words of a failure leave room for those of the seal.
  const float seals = sealed ? words_height(seal_words(pen, view)) + ui.gap() : 0;
  const float most = std::max(ui.mm(8), down.left_over() - seals);
  draw_step(pen, down.take_end(std::min(words_height(copy), most)), view.copy.state, copy);
  if (!sealed) {
    touch::Key seal{.label = pen.words("days_end.seal"), .style = Style::kAction};
    seal.enabled = view.loaded && (view.seal.state == flow::StepState::kReady ||
                                   view.seal.state == flow::StepState::kFailed);
    if (touch::key(ui, down.take_end(ui.key()), seal)) pen.send(flow::SealDay{});
  }
  const std::string seal = seal_words(pen, view);
  draw_step(pen, down.take_end(std::min(words_height(seal), down.left_over())), view.seal.state,
            seal);
}

float steps_height(const Pen& pen, const flow::DaysEndView& view, float width) {
  const touch::Ui& ui = pen.ui;
  const bool sealed = view.seal.state == flow::StepState::kDone;
  float height = 0;
  for (const std::string& text : {seal_words(pen, view), copy_words(pen, view)})
    height +=
        std::max(ui.mm(8), touch::text_height(ui, text, Font::kBody, width - ui.mm(11))) + ui.gap();
  if (!sealed || !view.places.empty()) height += ui.key() + ui.gap();
  return height;
}

}  // namespace

void draw_days_end(const Pen& pen, const flow::DaysEndView& view) {
  touch::Ui& ui = pen.ui;
  auto group = ui.group("Day's end");
  Cutter down(ui.page(), Axis::kDown, ui.gap());
  const std::string note =
      view.open + view.held + view.questioned == 0
          ? std::string(pen.words("days_end.all_well"))
          : pen.words.fill("days_end.summary",
                           {number(view.open), number(view.held), number(view.questioned)});
  if (draw_head(pen, down.take(touch::head_height(ui)),
                {.title = pen.words("days_end.title"), .note = note, .back = true}, view.head))
    pen.send(flow::ShowToday{});
  if (ui.portrait()) {
    const float width = down.rest().width();
    draw_steps(pen, down.take_end(steps_height(pen, view, width)), view);
    draw_rows(pen, down.take_rest(), view);
    return;
  }
  Cutter across(down.take_rest(), Axis::kAcross, ui.mm(5));
  const float share = has_failed(view) ? 0.5F : 0.38F;
  const float width = std::max(ui.mm(60), across.rest().width() * share);
  const Rect side = ui.left_handed() ? across.take(width) : across.take_end(width);
  draw_steps(pen, side, view);
  draw_rows(pen, across.take_rest(), view);
}

}  // namespace ligule::screens
