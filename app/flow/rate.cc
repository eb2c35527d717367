// The rating card: one plot, its measures, one tap a value.
#include <algorithm>
#include <cmath>
#include <variant>

#include "app/flow/amounts.h"
#include "app/flow/gather.h"
#include "app/flow/hand_over.h"
#include "app/flow/progress.h"
#include "app/flow/season.h"
#include "app/flow/second_look.h"
#include "app/flow/turn.h"
#include "storage/trial/composite.h"
#include "storage/trial/number.h"
#include "storage/trial/record_line.h"

namespace ligule::flow {
namespace {

const PlanPlot& present_plot(const Book& book) {
  return book.plots.at(book.present);
}

bool same_value(const Record& record, const EnteredValue& value) {
  return record.entered == value.entered && record.unit == value.unit &&
         (record.state == ValueState::kValue || record.state == ValueState::kOnHold);
}

// What a new value of this plot says of the one that stands. Nobody's finger slipped where somebody
// else looks, or where the single steps around a value were asked for.
std::string why_changed(const Turn& turn, const Rating& rating, const Cell& cell) {
  if (!cell.claim) return "mistap";  // of a first value nobody reads it
  if (cell.open()) return "after_later";
  const bool other = !turn.model.person || cell.claim->record.person != turn.model.person->id;
  return other || std::holds_alternative<PadFine>(rating.pad) ? "looked_again" : "mistap";
}

void keep_value(Turn& turn, Rating& rating, const ChooseValue& intent, Source source) {
  Book& book = rating.book;
  const KnownTrial& trial = trial_of(turn.model, book);
  const PlanPlot& plot = present_plot(book);
  const Scale* const scale = scale_of(turn.model, trial, plot, intent.measure);
  if (scale == nullptr) return;
  // Visits and several numbers have pads of their own.
  if (scale->kind == ScaleKind::kReached || is_composite(scale->kind)) return;
  if (scale->readings > 1) return add_reading(turn, rating, intent, source);
  const Cell cell = cell_of(turn.model, book, plot, intent.measure);
  const checks::Candidate candidate{intent.measure, scale, intent.entered,
                                    unit_for(turn.model.setup, intent.measure, *scale, cell),
                                    std::nullopt};
  checks::History history = history_of(turn, book, plot, intent.measure);
  const Uuid subject = plot_subject(turn.model, book, plot);
  add_raters(turn, book, plot, cell, history);
  const checks::Verdict verdict = checks::judge(candidate, trial.plan, history);
  if (verdict.outcome == checks::Outcome::kRefuse) {
    return refuse(turn, verdict.findings.front());
  }
  // Tapping what stands already says nothing new.
  if (cell.claim && same_value(cell.claim->record, verdict.value)) {
    return settle_focus(turn, rating);
  }
  const std::string reason =
      intent.reason.empty() ? why_changed(turn, rating, cell) : intent.reason;
  const About about{&trial, book.id, {subject, intent.measure, 1}, std::nullopt, scale};
  Draft draft =
      value_draft(turn, about, verdict.value, ValueState::kValue, source, cell.claim, reason);
  draft.record.answers = verdict.answered;
  draft.open = verdict.findings;
  std::vector<Draft> drafts;
  drafts.push_back(std::move(draft));
  keep_or_ask(turn, ActKind::kValues, plot.number, std::move(drafts));
}

// A date is tapped for a whole block: its pad stays until the last plot has one.
std::string measure_visited(const Model& model, const Book& book, const PlanPlot& plot) {
  const KnownTrial& trial = trial_of(model, book);
  for (const std::string& measure :
       needed_of(trial, book.occasion, plot, model.setup.definitions)) {
    const Scale* const scale = scale_of(model, trial, plot, measure);
    if (scale == nullptr || scale->kind != ScaleKind::kReached) continue;
    // Asked last: it looks at one plot after the other.
    return next_open(model, book, book.present) ? measure : std::string();
  }
  return {};
}

}  // namespace

void settle_focus(const Turn& turn, Rating& rating) {
  const Book& book = rating.book;
  rating.focus =
      book.plots.empty() ? std::string() : next_measure(turn.model, book, present_plot(book));
  if (rating.focus.empty() && !book.plots.empty())
    rating.focus = measure_visited(turn.model, book, present_plot(book));
  rating.pad = PadTiles{};
  rating.amount = Keypad(Field::kAmount);
  rating.part.clear();
}

void choose_value(Turn& turn, Rating& rating, const ChooseValue& intent, Source source) {
  if (rating.book.plots.empty() || !can_enter(turn.model)) return;
  const auto measures = measures_of(trial_of(turn.model, rating.book), rating.book.occasion,
                                    present_plot(rating.book), turn.model.setup.definitions);
  if (std::ranges::find(measures, intent.measure) == measures.end()) return;
  keep_value(turn, rating, intent, source);
}

void focus_measure(const Turn& turn, Rating& rating, const FocusMeasure& intent) {
  if (rating.book.plots.empty()) return;
  const auto measures = measures_of(trial_of(turn.model, rating.book), rating.book.occasion,
                                    present_plot(rating.book), turn.model.setup.definitions);
  if (std::ranges::find(measures, intent.measure) == measures.end()) return;
  if (intent.measure == measure::kNote) return open_note(turn, rating, false);
  settle_focus(turn, rating);
  rating.focus = intent.measure;
}

void show_tens(const Turn& turn, Rating& rating) {
  if (rating.book.plots.empty() || rating.focus.empty()) return;
  const bool shown =
      std::holds_alternative<PadTens>(rating.pad) || std::holds_alternative<PadFine>(rating.pad);
  const Scale* const scale = scale_of(turn.model, trial_of(turn.model, rating.book),
                                      present_plot(rating.book), rating.focus);
  if (shown || scale == nullptr || !has_fine(*scale))
    rating.pad = PadTiles{};
  else
    rating.pad = PadTens{};
}

void show_fine(const Turn& turn, Rating& rating, const ShowFine& intent) {
  if (rating.book.plots.empty() || rating.focus.empty() || intent.around.empty()) {
    rating.pad = PadTiles{};
    return;
  }
  const Scale* const scale = scale_of(turn.model, trial_of(turn.model, rating.book),
                                      present_plot(rating.book), rating.focus);
  if (scale == nullptr || fine_choices_of(*scale, intent.around).empty()) return;
  rating.pad = PadFine{intent.around};
}

void step_amount(const Turn& turn, Rating& rating, int by) {
  if (rating.book.plots.empty() || rating.focus.empty()) return;
  const PlanPlot& plot = present_plot(rating.book);
  const Scale* const scale =
      scale_of(turn.model, trial_of(turn.model, rating.book), plot, rating.focus);
  if (scale == nullptr) return;
  std::string from = rating.amount.text(Field::kAmount);
  const Cell cell = cell_of(turn.model, rating.book, plot, rating.focus);
  if (from.empty()) {
    // Of several heights the next one is near the last.
    const auto taken = rating.begun.find({plot.number, rating.focus});
    if (taken != rating.begun.end() && !taken->second.empty())
      from = taken->second.back().text;
    else if (cell.claim && scale->readings <= 1)
      from = cell.claim->record.entered;
  }
  const std::string unit = unit_for(turn.model.setup, rating.focus, *scale, cell);
  // From nothing to a usual height would be many taps: the first step begins among the tiles.
  const std::vector<std::string> usual = choices_of(*scale, unit);
  if (from.empty() && !usual.empty()) from = usual[(usual.size() - 1) / 2];
  rating.amount.set(Field::kAmount, stepped(*scale, unit, from, by));
}

void erase_amount(Turn& turn, Rating& rating) {
  if (rating.book.plots.empty() || rating.focus.empty()) return;
  const PlanPlot& plot = present_plot(rating.book);
  const Scale* const scale =
      scale_of(turn.model, trial_of(turn.model, rating.book), plot, rating.focus);
  // Of several readings the last one is undone.
  const bool typing = !rating.amount.text(Field::kAmount).empty();
  if (scale != nullptr && scale->readings > 1 && !typing) return use_pad(turn, rating, DropLast{});
  // The pad shows what stands while nothing is typed: that is what is edited.
  const Cell cell = cell_of(turn.model, rating.book, plot, rating.focus);
  const bool amount =
      scale != nullptr && (scale->kind == ScaleKind::kLength || scale->kind == ScaleKind::kMass);
  if (amount && !typing && cell.claim) {
    rating.amount.set(Field::kAmount, cell.claim->record.entered);
  }
  rating.amount.erase();
}

void keep_amount(Turn& turn, Rating& rating) {
  const std::string typed = rating.amount.text(Field::kAmount);
  if (typed.empty() || rating.focus.empty()) return;
  // Should it be refused, the next digit begins another amount.
  rating.amount.focus(Field::kAmount);
  choose_value(turn, rating, {rating.focus, typed}, Source::kTyped);
}

void open_note(const Turn& turn, Rating& rating, bool on_last) {
  const Book& book = rating.book;
  if (book.plots.empty() || !can_enter(turn.model)) return;
  if (on_last && !book.last) return;
  const std::size_t place = on_last ? book.last.value_or(book.present) : book.present;
  // Written for one plot and put on the other: the words go along.
  const auto* const written = std::get_if<PadNote>(&rating.pad);
  Keypad words = written == nullptr ? Keypad(Field::kNote) : written->keypad;
  const std::string& plot = book.plots.at(place).number;
  const auto begun = rating.notes_begun.find(plot);
  // Nobody goes on with another's words.
  const bool own = begun != rating.notes_begun.end() && turn.model.person &&
                   begun->second.by == turn.model.person->id;
  if (written == nullptr && own) {
    words.set(Field::kNote, begun->second.text);
    words.go_on();
  }
  rating.pad = PadNote{plot, std::move(words)};
}

namespace {

// The note being written as a draft of whoever holds the tablet; none where nothing is written.
std::optional<Draft> note_draft(const Turn& turn, const Rating& rating) {
  const auto* const pad = std::get_if<PadNote>(&rating.pad);
  if (pad == nullptr) return std::nullopt;
  const Book& book = rating.book;
  const auto place = place_of(book, pad->plot);
  const std::string text = cleaned(pad->keypad.text(Field::kNote));
  if (!place || text.empty()) return std::nullopt;
  const PlanPlot& plot = book.plots.at(*place);
  const KnownTrial& trial = trial_of(turn.model, book);
  const auto parts = note_parts(turn.model, book, plot);
  const std::string measure(measure::kNote);
  const About about{
      &trial,
      book.id,
      {plot_subject(turn.model, book, plot), measure, parts.empty() ? 1 : parts.back() + 1},
      std::nullopt,
      scale_of(turn.model, trial, plot, measure)};
  return value_draft(turn, about, {text, "", std::nullopt}, ValueState::kValue, Source::kTyped,
                     std::nullopt, "");
}

void keep_note_of(Turn& turn, Rating& rating, Draft draft) {
  const std::string plot = std::get<PadNote>(rating.pad).plot;
  rating.pad = PadTiles{};
  rating.notes_begun.erase(plot);
  std::vector<Draft> drafts;
  drafts.push_back(std::move(draft));
  keep_or_ask(turn, ActKind::kNote, plot, std::move(drafts));
}

}  // namespace

void keep_note(Turn& turn, Rating& rating) {
  if (!can_enter(turn.model)) return;
  if (auto draft = note_draft(turn, rating)) keep_note_of(turn, rating, *std::move(draft));
}

std::optional<Draft> begun_note(const Turn& turn) {
  const auto* const rating = std::get_if<Rating>(&turn.model.screen);
  return rating == nullptr ? std::nullopt : note_draft(turn, *rating);
}

void keep_begun_note(Turn& turn, Draft draft, const std::string& initials) {
  auto* const rating = std::get_if<Rating>(&turn.model.screen);
  if (rating == nullptr || !std::holds_alternative<PadNote>(rating->pad)) return;
  const std::string plot = std::get<PadNote>(rating->pad).plot;
  keep_note_of(turn, *rating, std::move(draft));
  turn.notice("notice.note_kept", {initials, plot});
}

void rated(const Turn& turn, Rating& rating, const Act& act) {
  Book& book = rating.book;
  if (act.occasion != book.id) return;
  forget_begun(rating, act);
  if (act.kind == ActKind::kTakeBack) {
    look_taken_back(turn, rating, act);
    if (const auto place = place_of(book, act.plot)) book.present = *place;
    rating.block = 0;
    return settle_focus(turn, rating);
  }
  if (act.kind != ActKind::kValues && act.kind != ActKind::kPutOff) return;
  // On a visit one stands before a whole block, not at a plot.
  if (visited(turn, rating, act)) return settle_focus(turn, rating);
  const PlanPlot& plot = present_plot(book);
  // A correction on a plot that was whole before leaves the person there to look at it.
  const auto needed =
      needed_of(trial_of(turn.model, book), book.occasion, plot, turn.model.setup.definitions);
  bool closed_something = false;
  for (std::size_t i = 0; i < act.records.size(); ++i) {
    const bool open_before = Cell{act.before[i], Durability::kKept}.open();
    const bool counts = std::ranges::find(needed, act.records[i].measure) != needed.end();
    closed_something = closed_something || (open_before && counts);
  }
  const PlotState state = plot_state(turn.model, book, plot);
  const bool through =
      state == PlotState::kDone || (act.kind == ActKind::kPutOff && state == PlotState::kLater);
  if (act.plot == plot.number && closed_something && through) {
    if (book.looks.look) return end_look(turn, rating);
    if (state == PlotState::kDone && begin_look(turn, rating)) return;
    const auto next = next_open(turn.model, book, book.present);
    if (next && *next != book.present) {
      book.last = book.present;
      book.present = *next;
    }
  }
  settle_focus(turn, rating);
}

}  // namespace ligule::flow
