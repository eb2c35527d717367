// Closing says that nothing more will come; what is open then is missing. Values may still be put
// right afterwards.
#include "app/flow/closing.h"

#include <algorithm>
#include <utility>
#include <variant>

#include "app/flow/closing_looks.h"
#include "app/flow/progress.h"
#include "app/flow/second_look.h"
#include "app/flow/seconds.h"
#include "storage/trial/details.h"
#include "storage/trial/said.h"

namespace ligule::flow {
namespace {

// Of a second rating it closes nothing for others.
void close(Turn& turn, const Closing& what) {
  const KnownTrial* const trial = trial_with(turn.model, what.trial);
  if (trial == nullptr) return;
  Record record = blank(turn, kind::kClosed);
  record.trial = what.trial;
  record.plan = trial->digest;
  record.occasion = what.occasion;
  record.reason = what.open.empty() ? "all_done" : "left_open";
  Details details;
  if (what.second) details[std::string(said::kClosedAs)] = said::kSecond;
  for (const ClosingLook& look : what.looks) {
    if (std::ranges::find(record.answers, look.rule, &Answer::rule) == record.answers.end())
      record.answers.push_back({look.rule, std::string(said::kClosedSo)});
    std::string told = look.measure;
    for (const std::string& argument : look.arguments) told += (told.empty() ? "" : " ") + argument;
    std::string& all = details[look.rule];
    all += (all.empty() ? "" : "; ") + told;
  }
  if (!details.empty()) record.details = details_text(details);
  Act act;
  act.kind = ActKind::kClosed;
  act.trial = record.trial;
  act.occasion = record.occasion;
  act.records.push_back(std::move(record));
  commit(turn, std::move(act));
  if (std::holds_alternative<OnDaysEnd>(turn.model.screen)) return show_days_end(turn);
  show_today(turn);
}

void close_or_ask(Turn& turn, Closing what) {
  if (what.open.empty() && what.looks.empty()) return close(turn, what);
  turn.model.closing = std::move(what);
  turn.run(Cue{CueKind::kQuestioned});
}

// The rating itself is for the first to close; who is done with a second one says so, since until
// then others' values are hidden from them.
void close_second(Turn& turn, const Book& book) {
  Closing what{trial_of(turn.model, book).plan.id(), book.id, {}, {}, true};
  bool begun = false;
  for (const PlanPlot& plot : book.plots) {
    const PlotState state = plot_state(turn.model, book, plot);
    begun = begun || state == PlotState::kDone;
    if (state != PlotState::kDone) what.open.push_back(plot.number);
  }
  if (!begun || what.open.empty()) return show_today(turn);
  close_or_ask(turn, std::move(what));
}

}  // namespace

void declare_done(Turn& turn) {
  if (std::holds_alternative<Review>(turn.model.screen)) return;
  const Book* const book = book_of(turn.model.screen);
  if (book == nullptr || !can_enter(turn.model)) return;
  if (book->looks.rater) return close_second(turn, *book);
  if (auto* const rating = on<Rating>(turn); rating != nullptr && book->looks.look)
    end_look(turn, *rating);
  if (is_closed(turn.model, book->id)) return show_today(turn);  // it has been said
  Closing what{trial_of(turn.model, *book).plan.id(), book->id, {}};
  if (std::holds_alternative<Rating>(turn.model.screen))
    what.looks = closing_looks(turn.model, *book);
  else if (const auto* const harvest = std::get_if<Harvest>(&turn.model.screen))
    what.looks = closing_looks(turn.model, *harvest);
  for (const PlanPlot& plot : book->plots)
    if (plot_state(turn.model, *book, plot) != PlotState::kDone) what.open.push_back(plot.number);
  close_or_ask(turn, std::move(what));
}

void close_occasion(Turn& turn, const CloseOccasion& intent) {
  const Model& model = turn.model;
  if (!std::holds_alternative<OnDaysEnd>(model.screen) || !can_enter(model)) return;
  const auto at =
      std::ranges::find(model.today.progress, intent.occasion, &OccasionProgress::occasion);
  if (at == model.today.progress.end() || at->closed) return;
  // How it was made can only be told from its values.
  turn.model.closing_next = Closing{at->trial, at->occasion, at->open_plots};
  turn.run(LoadOccasion{at->trial, at->occasion});
}

bool looked_before_closing(Turn& turn, const OccasionLoaded& loaded) {
  Model& model = turn.model;
  const std::optional<Closing> next = model.closing_next;
  if (!std::holds_alternative<OnDaysEnd>(model.screen) || !next ||
      next->occasion != loaded.occasion)
    return false;
  model.closing_next.reset();
  Closing what = *next;
  // Looks name values, and whoever is not done with a second rating is told none.
  std::optional<Book> book = open_book(model, loaded);
  if (book && !hides_from_second(model, loaded.occasion)) {
    const bool cutting = book->occasion.job == Job::kHarvest;
    Harvest harvest;
    harvest.book = *std::move(book);
    what.looks = cutting ? closing_looks(model, harvest) : closing_looks(model, harvest.book);
  }
  close_or_ask(turn, std::move(what));
  return true;
}

void answer_closing(Turn& turn, const AnswerClosing& intent) {
  const std::optional<Closing> what = std::exchange(turn.model.closing, std::nullopt);
  if (what && intent.close) close(turn, *what);
}

}  // namespace ligule::flow
