#include <algorithm>

#include "app/flow/amounts.h"
#include "app/flow/parts.h"
#include "app/flow/progress.h"
#include "app/flow/sown_form.h"
#include "app/flow/view_parts.h"
#include "storage/trial/number.h"

namespace ligule::flow {
namespace {

PadKind pad_of(const Scale& scale) {
  if (scale.kind == ScaleKind::kStages) return PadKind::kLadder;
  switch (scale.kind) {
    case ScaleKind::kShares:
      return PadKind::kShares;
    case ScaleKind::kCounts:
      return PadKind::kCounts;
    case ScaleKind::kCells:
      return PadKind::kCells;
    case ScaleKind::kReached:
      return PadKind::kReached;
    default:
      break;
  }
  const bool amount = scale.kind == ScaleKind::kLength || scale.kind == ScaleKind::kMass;
  return amount ? PadKind::kAmount : PadKind::kTiles;
}

std::vector<ChoiceView> step_choices(const Scale& scale, const std::string& shown) {
  std::vector<ChoiceView> choices;
  choices.reserve(scale.steps.size());
  for (const ScaleStep& step : scale.steps) {
    choices.push_back({step.code, step_word(scale, step.code), step.value, step.code == shown});
  }
  return choices;
}

std::vector<ChoiceView> number_choices(const Scale& scale, const MeasureView& view,
                                       const std::string& around) {
  const auto texts = around.empty() ? choices_of(scale, view.unit) : fine_choices_of(scale, around);
  std::vector<ChoiceView> choices;
  choices.reserve(texts.size());
  for (const std::string& text : texts) {
    const auto value = parse_number(text);
    choices.push_back({text, "", value ? *value : 0, text == view.shown});
  }
  return choices;
}

// Stretches between the tiles, each tapped by its middle.
std::vector<ChoiceView> tens_choices(const Scale& scale) {
  std::vector<ChoiceView> choices;
  for (const Stretch& stretch : stretches_of(scale)) {
    const auto value = parse_number(stretch.around);
    choices.push_back({stretch.around, "", value ? *value : 0, false, true, stretch.text});
  }
  return choices;
}

// A score that a program defined itself: what it calls things, as texts.
void use_own_words(const Scale& scale, MeasureView& view) {
  view.own_name = scale.name;
  view.own_definition = scale.definition;
  for (std::size_t n = 0; n < view.choices.size(); ++n) {
    view.choices[n].word = scale.steps[n].name;
    if (view.choices[n].selected) view.shown_word = scale.steps[n].name;
  }
}

MeasureView measure_view(const Model& model, const Rating& rating, const PlanPlot& plot,
                         const std::string& measure, const Scale& scale) {
  MeasureView view;
  const Cell cell = cell_of(model, rating.book, plot, measure);
  view.measure = measure;
  view.scale = scale.code;
  view.kind = scale.kind;
  view.direction = scale.direction;
  view.pad = pad_of(scale);
  view.unit = unit_for(model.setup, measure, scale, cell);
  view.mark = mark_of(cell);
  if (cell.claim) {
    view.shown = figure_of(model, rating.book, plot, measure, view.unit).text;
    const bool stepped = scale.kind == ScaleKind::kScore || scale.kind == ScaleKind::kStages;
    if (stepped && !view.shown.empty()) view.shown_word = step_word(scale, view.shown);
  }
  const bool focused = rating.focus == measure;
  const auto* const fine = focused ? std::get_if<PadFine>(&rating.pad) : nullptr;
  view.fine = fine != nullptr;
  view.tens = focused && std::holds_alternative<PadTens>(rating.pad);
  view.can_fine = has_fine(scale);
  const bool stepped = scale.kind == ScaleKind::kScore || scale.kind == ScaleKind::kStages;
  view.choices = !stepped ? number_choices(scale, view, fine == nullptr ? "" : fine->around)
                          : step_choices(scale, view.shown);
  if (view.tens) view.choices = tens_choices(scale);
  if (trial_of(model, rating.book).plan.find_score(measure) == &scale) use_own_words(scale, view);
  if (focused) view.typed = rating.amount.text(Field::kAmount);
  add_pad(model, rating, plot, scale, view);
  return view;
}

// Whether a later visit is to find that the plot reached a stage.
bool awaits_visit(const Model& model, const Book& book, const PlanPlot& plot) {
  const auto needed =
      needed_of(trial_of(model, book), book.occasion, plot, model.setup.definitions);
  return std::ranges::any_of(needed, [&](const std::string& measure) {
    const Cell cell = cell_of(model, book, plot, measure);
    return cell.claim && says_not_yet(cell.claim->record);
  });
}

}  // namespace

std::string step_word(const Scale& scale, std::string_view code) {
  const auto step = std::ranges::find(scale.steps, code, &ScaleStep::code);
  if (step == scale.steps.end() || step->name.empty()) return {};
  return "scale." + scale.code + "." + std::string(code);
}

std::string visit_word(const Scale* scale, const Record& record) {
  if (scale == nullptr || scale->kind != ScaleKind::kReached) return {};
  return step_word(*scale, record.entered);
}

RateView rate_view(const Model& model, const Rating& rating) {
  const Book& book = rating.book;
  const KnownTrial& trial = trial_of(model, book);
  RateView view;
  view.head = head_view(model);
  view.trial_code = trial.plan.codes.trial;
  view.occasion = book.occasion.code;
  view.name = name_of(trial.plan, book.occasion);
  view.plots = book.plots.size();
  view.can_enter = can_enter(model);
  view.closed = is_closed(model, book.id) && !book.looks.rater;
  view.drilled = trial.plan.drilled;
  view.blind = !names_shown(model, book.id);
  view.second = book.looks.rater.has_value();
  view.can_take_back = !book.done.empty() && can_enter(model);
  if (book.plots.empty()) {
    view.all_done = true;
    return view;
  }
  const PlanPlot& plot = book.plots.at(book.present);
  view.plot = plot.number;
  view.block = plot.block;
  view.place = book.present + 1;
  view.done = plots_done(model, book);
  view.all_done = view.done == view.plots;
  view.can_close =
      !view.closed && !view.all_done && view.can_enter &&
      std::ranges::none_of(book.plots, [&](const PlanPlot& each) {
        return plot_state(model, book, each) == PlotState::kOpen || awaits_visit(model, book, each);
      });
  const auto next = next_open(model, book, book.present);
  if (next && *next != book.present) view.next_open = book.plots.at(*next).number;
  view.warning = supply_warning(model, view.plots - view.done);
  view.names = entry_shown(model, book, plot);
  view.stands = stands_view(model, book);
  view.lane = lane_view(model, book);
  view.present = book.present;
  view.stake = stake_card(model, book);
  view.can_enter = view.can_enter && !view.stake.any();
  for (const std::string& measure :
       measures_of(trial, book.occasion, plot, model.setup.definitions)) {
    if (measure == measure::kNote) continue;
    if (measure == rating.focus) view.focus = view.measures.size();
    const Scale* const scale = scale_of(model, trial, plot, measure);
    if (scale == nullptr) continue;
    view.measures.push_back(measure_view(model, rating, plot, measure, *scale));
  }
  for (const int part : note_parts(model, book, plot)) {
    const Cell cell =
        cell_at(model, book, {plot_subject(model, book, plot), std::string(measure::kNote), part});
    if (cell.claim) view.notes.push_back(cell.claim->record.entered);
  }
  if (const auto* const note = std::get_if<PadNote>(&rating.pad)) {
    const std::string& text = note->keypad.text(Field::kNote);
    const bool words = text.find_first_not_of(' ') != std::string::npos;
    view.note = NoteView{note->plot, text, words && can_enter(model)};
  }
  if (book.last) view.last_plot = book.plots.at(*book.last).number;
  return view;
}

}  // namespace ligule::flow
