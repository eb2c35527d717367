#include "app/flow/sown_form.h"

#include <algorithm>
#include <cstdlib>
#include <utility>
#include <variant>

#include "app/flow/progress.h"
#include "app/flow/second_look.h"
#include "app/flow/seconds.h"
#include "app/flow/stake.h"
#include "app/flow/trials.h"
#include "app/flow/weighing.h"

namespace ligule::flow {
namespace {

// What was sown wrong was wrong from the first day on, whenever somebody sees it; what happened to
// a plot since happened about now.
SownFrom usual_from(AsSownStatus status) {
  const bool since = status == AsSownStatus::kReseeded || status == AsSownStatus::kAbandoned;
  return since ? SownFrom::kToday : SownFrom::kSowing;
}

CalendarDate since_of(const Model& model, const KnownTrial& trial, const SownForm& form) {
  const CalendarDate today = model.now.local_date;
  const CalendarDate sown = std::min(trial.plan.sown, today);
  if (form.from == SownFrom::kDay) return day_before(today, form.days_ago);
  if (form.from) return *form.from == SownFrom::kSowing ? sown : today;
  if (!form.status) return today;
  const PlanPlot* const plot = trial.plan.find_plot(form.plot);
  const AsSown* const stated = plot == nullptr ? nullptr : stated_of(trial, *plot);
  const bool of_sowing = usual_from(*form.status) == SownFrom::kSowing;
  // That it is as planned after all takes the place of what was stated, and that anything stands
  // there of that it was abandoned.
  const bool replaces = stated != nullptr && (form.status == AsSownStatus::kAsPlanned ||
                                              stated->status == AsSownStatus::kAbandoned);
  if (replaces && of_sowing) return stated->since;
  return of_sowing ? sown : today;
}

void take_other(const Turn& turn, const KnownTrial& trial, SownForm& form,
                const std::string& plot) {
  if (trial.plan.find_plot(plot) == nullptr) return turn.notice("notice.unknown_plot", {plot});
  if (plot == form.plot) return turn.notice("notice.sown_same_plot", {plot});
  form.other = plot;
  form.typing.reset();
}

void state_exchanged(const Turn& turn, const KnownTrial& trial, SownForm& form,
                     const StateExchanged& what) {
  form.status = AsSownStatus::kHolds;
  form.exchanged = true;
  form.entry.clear();
  form.typing.reset();
  if (what.typing) form.typing = Keypad{Field::kPlot};
  if (!what.with.empty()) take_other(turn, trial, form, what.with);
}

void state_status(const KnownTrial& trial, SownForm& form, const StateSown& what) {
  if (what.status) {
    form.status = what.status;
    form.exchanged = false;
    form.other.clear();
    form.typing.reset();
  }
  if (!what.entry.empty() && trial.plan.find_entry(what.entry) != nullptr) form.entry = what.entry;
  if (form.status != AsSownStatus::kHolds) form.entry.clear();
}

bool type_other(const Turn& turn, const KnownTrial& trial, SownForm& form, const Intent& intent) {
  if (!form.typing) return false;
  if (const auto* const text = std::get_if<KeyText>(&intent)) {
    form.typing->type(text->text);
  } else if (std::holds_alternative<KeyErase>(intent)) {
    form.typing->erase();
  } else if (std::holds_alternative<KeyDone>(intent)) {
    take_other(turn, trial, form, std::string(form.typing->text(Field::kPlot)));
  } else {
    return false;
  }
  return true;
}

// The plot holds that entry. Where that undoes an exchange it is as planned again.
AsSown now_holding(const KnownTrial& trial, const PlanPlot& plot, const PlanEntry& entry,
                   const AsSown& like) {
  const AsSown* const stated = stated_of(trial, plot);
  const bool undone =
      entry.code == plot.entry && stated != nullptr && stated->status == AsSownStatus::kHolds;
  AsSown what{trial.plan.plot(plot), undone ? AsSownStatus::kAsPlanned : AsSownStatus::kHolds,
              std::nullopt, like.since, like.reason};
  if (!undone) what.holds = trial.plan.entry(entry);
  return what;
}

// Each holds what the other was believed to hold. Empty: of one of them that is not known.
std::vector<AsSown> exchanged(const Turn& turn, const KnownTrial& trial, const SownForm& form,
                              const AsSown& like) {
  const PlanPlot* const one = trial.plan.find_plot(form.plot);
  const PlanPlot* const other = trial.plan.find_plot(form.other);
  if (one == nullptr || other == nullptr) {
    turn.notice("notice.sown_choose_plot");
    return {};
  }
  const PlanEntry* const mine = entry_of(trial, *one);
  const PlanEntry* const theirs = entry_of(trial, *other);
  if (mine == nullptr || theirs == nullptr) {
    turn.notice("notice.sown_not_known", {mine == nullptr ? one->number : other->number});
    return {};
  }
  return {now_holding(trial, *one, *theirs, like), now_holding(trial, *other, *mine, like)};
}

std::vector<AsSown> statements(const Turn& turn, const KnownTrial& trial, const SownForm& form,
                               AsSown what) {
  if (form.exchanged) return exchanged(turn, trial, form, what);
  if (what.status == AsSownStatus::kHolds) {
    const PlanEntry* const entry = trial.plan.find_entry(form.entry);
    if (entry == nullptr) {
      turn.notice("notice.choose_entry");
      return {};
    }
    what.holds = trial.plan.entry(*entry);
  }
  return {std::move(what)};
}

// Plots that could have been sown in its place: along the path, and beside it in the field.
std::vector<std::string> plots_near(const KnownTrial& trial, const PlanPlot& plot) {
  constexpr std::size_t kMost = 6;
  const std::vector<PlanPlot> path = trial.plan.along_path();
  const auto at = std::ranges::find(path, plot.number, &PlanPlot::number);
  const auto place = at - path.begin();
  std::vector<std::string> near;
  const auto add = [&](const PlanPlot& other) {
    const bool known = std::ranges::find(near, other.number) != near.end();
    if (!known && near.size() < kMost && other.number != plot.number) near.push_back(other.number);
  };
  const auto last = static_cast<std::ptrdiff_t>(path.size()) - 1;
  for (const std::ptrdiff_t by : {-1, 1, -2, 2}) {
    const std::ptrdiff_t to = place + by;
    if (to >= 0 && to <= last) add(path[static_cast<std::size_t>(to)]);
  }
  for (const PlanPlot& other : path)
    if (std::abs(other.row - plot.row) + std::abs(other.column - plot.column) == 1) add(other);
  std::ranges::sort(near, {}, [&](const std::string& number) {
    return std::ranges::find(path, number, &PlanPlot::number) - path.begin();
  });
  return near;
}

bool names_plot(const KnownTrial& trial, const Act& act, const std::string& plot) {
  const PlanPlot* const planned = trial.plan.find_plot(plot);
  if (planned == nullptr) return false;
  const Uuid subject = plot_id_in(trial, *planned).uuid;
  return std::ranges::any_of(act.records,
                             [&](const Record& record) { return record.subject == subject; });
}

// The card goes on where it was, or at the next open plot where that one is walked to no more.
void stand_on(Turn& turn, Book& book, const std::string& here, const std::string& last,
              std::size_t was) {
  const std::size_t size = book.plots.size();
  book.last = last.empty() ? std::nullopt : place_of(book, last);
  if (const auto place = place_of(book, here)) {
    book.present = *place;
    return;
  }
  const std::size_t from = std::min(was, size - 1);
  book.present = next_open(turn.model, book, (from + size - 1) % size).value_or(from);
  turn.notice("notice.sown_gone", {here});
}

}  // namespace

const AsSown* stated_of(const KnownTrial& trial, const PlanPlot& plot) {
  const auto at = std::ranges::find(trial.as_sown, plot_id_in(trial, plot), &AsSown::plot);
  return at == trial.as_sown.end() ? nullptr : &*at;
}

bool state_on(const Turn& turn, const KnownTrial& trial, SownForm& form, const Intent& intent) {
  if (type_other(turn, trial, form, intent)) return true;
  if (const auto* const status = std::get_if<StateSown>(&intent)) {
    state_status(trial, form, *status);
  } else if (const auto* const other = std::get_if<StateExchanged>(&intent)) {
    state_exchanged(turn, trial, form, *other);
  } else if (const auto* const from = std::get_if<SaySownFrom>(&intent)) {
    form.from = from->from;
    form.days_ago = 0;
  } else if (const auto* const step = std::get_if<StepDay>(&intent)) {
    form.from = SownFrom::kDay;
    form.days_ago = std::clamp(form.days_ago + step->by, 0, kMostDaysAgo);
  } else {
    return false;
  }
  return true;
}

bool keep_sown(Turn& turn, const KnownTrial& trial, const SownForm& form,
               const std::string& reason) {
  if (!form.status || !can_enter(turn.model)) return false;
  if (std::ranges::find(kSownReasons, reason) == kSownReasons.end()) return false;
  const PlanPlot* const plot = trial.plan.find_plot(form.plot);
  if (plot == nullptr) return false;
  const AsSown what{trial.plan.plot(*plot), *form.status, std::nullopt,
                    since_of(turn.model, trial, form), reason};
  if (what.since < trial.plan.sown) {
    turn.notice("notice.before_sowing", {format_date(trial.plan.sown)});
    return false;
  }
  Act act;
  act.kind = ActKind::kAsSown;
  act.trial = trial.plan.id();
  for (const AsSown& each : statements(turn, trial, form, what)) {
    Record record = about_trial(turn, trial, kind::kAsSown);
    write_as_sown(each, record);
    act.records.push_back(std::move(record));
  }
  if (act.records.empty()) return false;
  commit(turn, std::move(act));
  return true;
}

SownFormView sown_view(const Model& model, const KnownTrial& trial, const SownForm& form) {
  SownFormView view;
  view.plot = form.plot;
  view.status = form.status;
  view.exchanged = form.exchanged;
  view.entry = form.entry;
  view.other = form.other;
  if (form.typing) view.typing = std::string(form.typing->text(Field::kPlot));
  view.entries.reserve(trial.plan.entries.size());
  for (const PlanEntry& entry : trial.plan.entries) view.entries.push_back(entry.code);
  std::ranges::sort(view.entries);
  const CalendarDate since = since_of(model, trial, form);
  view.since = format_date(since);
  view.sown = format_date(trial.plan.sown);
  view.by_day = form.from == SownFrom::kDay;
  view.from_sowing = !view.by_day && since == trial.plan.sown;
  view.from_today = !view.by_day && !view.from_sowing && since == model.now.local_date;
  view.can_later = form.days_ago > 0;
  const bool missing = form.status == AsSownStatus::kHolds &&
                       (form.exchanged ? form.other.empty() : form.entry.empty());
  view.can_keep = form.status && can_enter(model) && !missing;
  const PlanPlot* const plot = trial.plan.find_plot(form.plot);
  if (plot == nullptr) return view;
  if (form.exchanged) view.near = plots_near(trial, *plot);
  if (const AsSown* const stated = stated_of(trial, *plot)) {
    view.stated = stated->status;
    view.stated_since = format_date(stated->since);
  }
  return view;
}

void show_stands(Turn& turn) {
  const Book* const book = entry_book(turn.model.screen);
  if (book == nullptr || book->plots.empty() || !can_enter(turn.model)) return;
  turn.model.standing = SownHere{trial_of(turn.model, *book).plan.id(),
                                 SownForm{.plot = book->plots.at(book->present).number}};
}

bool ask_abandoned(Turn& turn, const Book& book, const std::string& number) {
  const KnownTrial& trial = trial_of(turn.model, book);
  const auto since = abandoned_since(trial, number, turn.model.now.local_date);
  const bool enters = entry_book(turn.model.screen) == &book;
  if (!since || !enters || !can_enter(turn.model) || stake_in_the_way(turn.model)) return false;
  turn.model.standing = SownHere{trial.plan.id(), SownForm{.plot = number}};
  turn.notice("notice.abandoned", {number, format_date(*since)});
  return true;
}

bool in_stands(Turn& turn, const Intent& intent) {
  if (!turn.model.standing) return false;
  SownHere& standing = *turn.model.standing;
  const KnownTrial* const trial = trial_with(turn.model, standing.trial);
  if (trial == nullptr) {
    turn.model.standing.reset();
    return false;
  }
  if (std::holds_alternative<TrialsBack>(intent)) {
    if (standing.form.typing)
      standing.form.typing.reset();
    else
      turn.model.standing.reset();
    return true;
  }
  if (const auto* const keep = std::get_if<KeepSown>(&intent)) {
    const SownForm form = standing.form;
    if (keep_sown(turn, *trial, form, keep->reason)) turn.model.standing.reset();
    return true;
  }
  if (state_on(turn, *trial, standing.form, intent)) return true;
  // What is typed is of the form, never of the card that waits below.
  return std::holds_alternative<KeyText>(intent) || std::holds_alternative<KeyErase>(intent) ||
         std::holds_alternative<KeyDone>(intent);
}

void sown_changed(Turn& turn, const Act& act) {
  Model& model = turn.model;
  Book* const book = entry_book(model.screen);
  if (book == nullptr || book->plots.empty()) return;
  const KnownTrial& trial = trial_of(model, *book);
  if (act.trial != trial.plan.id()) return;
  std::vector<PlanPlot> path = walked(model, *book);
  // A second person walks what others rated: nothing is added to that.
  if (book->looks.rater || hides_from_second(model, book->id))
    std::erase_if(path, [&](const PlanPlot& plot) { return !place_of(*book, plot.number); });
  if (path == book->plots && !names_plot(trial, act, book->plots.at(book->present).number)) return;
  auto* const rating = std::get_if<Rating>(&model.screen);
  auto* const harvest = std::get_if<Harvest>(&model.screen);
  Weighing* const weighing = weighing_on(turn);
  if (rating != nullptr && book->looks.look) drop_look(model, *rating);
  const std::string here = book->plots.at(book->present).number;
  if (weighing != nullptr) leave_form(model, *harvest, *weighing);
  if (path.empty()) {
    turn.notice("notice.sown_gone", {here});
    return show_today(turn);
  }
  const std::string last = book->last ? book->plots.at(*book->last).number : std::string();
  const std::size_t was = book->present;
  std::swap(book->plots, path);
  stand_on(turn, *book, here, last, was);
  // Whoever said that a plot stands after all was about to record it.
  const auto back = std::ranges::find_if(book->plots, [&](const PlanPlot& plot) {
    return names_plot(trial, act, plot.number) &&
           std::ranges::find(path, plot.number, &PlanPlot::number) == path.end();
  });
  if (back != book->plots.end()) {
    book->present = static_cast<std::size_t>(back - book->plots.begin());
    went_to_stake(turn, *book, back->number);  // its stake was named
  }
  if (rating != nullptr) {
    rating->block = 0;
    settle_focus(turn, *rating);
  }
  if (weighing != nullptr) fill_form(turn, *harvest, *weighing);
}

StandsView stands_view(const Model& model, const Book& book) {
  StandsView view;
  if (book.plots.empty()) return view;
  view.can_state = can_enter(model) && !stake_in_the_way(model);
  const AsSown* const stated = stated_of(trial_of(model, book), book.plots.at(book.present));
  if (stated != nullptr) view.stated = stated->status;
  return view;
}

}  // namespace ligule::flow
