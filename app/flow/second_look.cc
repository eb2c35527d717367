#include "app/flow/second_look.h"

#include <algorithm>
#include <utility>

#include "app/flow/progress.h"
#include "app/flow/seconds.h"
#include "storage/checks/repeat_plots.h"

namespace ligule::flow {
namespace {

std::vector<std::string> needed_on(const Model& model, const Book& book, const PlanPlot& plot) {
  return needed_of(trial_of(model, book), book.occasion, plot, model.setup.definitions);
}

bool can_come_back(const Model& model, const Book& book, const PlanPlot& plot) {
  return can_be_rated_twice(trial_of(model, book), book.occasion, plot, model.setup.definitions);
}

// When this person gave the plot its last first value; empty: not all of it is given, or not all by
// them.
std::optional<UtcInstant> given_by(const Model& model, const Book& book, const PlanPlot& plot) {
  std::optional<UtcInstant> last;
  const Uuid subject = plot_subject(model, book, plot);
  for (const std::string& measure : needed_on(model, book, plot)) {
    const Cell cell = cell_as(model, book, {subject, measure, 1}, Purpose::kSurvey);
    if (!cell.claim || cell.open() || !model.person ||
        cell.claim->record.person != model.person->id)
      return std::nullopt;
    last = std::max(last.value_or(UtcInstant{}), cell.claim->record.at.utc);
  }
  return last;
}

bool was_repeated(const Model& model, const Book& book, const PlanPlot& plot) {
  const Uuid subject = plot_subject(model, book, plot);
  return std::ranges::any_of(needed_on(model, book, plot), [&](const std::string& measure) {
    return cell_as(model, book, {subject, measure, 1}, Purpose::kRepeat).claim.has_value();
  });
}

// Nobody remembers it: enough other plots were given since, whatever way they were walked.
bool long_ago(const Model& model, const Book& book, const UtcInstant& given) {
  const auto since = std::ranges::count_if(book.plots, [&](const PlanPlot& other) {
    const auto at = given_by(model, book, other);
    return at && *at > given;
  });
  return static_cast<std::size_t>(since) >= checks::kPlotsBetween;
}

// In the place of a plot: the person said to go on with the rating itself.
constexpr Uuid kWholeRating{};

auto asked_key(const Model& model, const Book& book, const Uuid& subject) {
  const std::optional<Person>& person = model.person;
  return std::tuple(person ? person->id : PersonId{}, book.id, model.now.local_date, subject);
}

void forget_begun_on(const Model& model, Rating& rating, const Uuid& subject) {
  const Book& book = rating.book;
  for (const PlanPlot& plot : book.plots) {
    if (plot_subject(model, book, plot) != subject) continue;
    std::erase_if(rating.begun,
                  [&](const auto& begun) { return begun.first.first == plot.number; });
    return;
  }
}

std::string initials_of_rater(const Model& model, PersonId id) {
  const auto at = std::ranges::find(model.people, id, &Person::id);
  return at == model.people.end() ? std::string("?") : at->initials;
}

}  // namespace

bool begin_look(const Turn& turn, Rating& rating) {
  Model& model = turn.model;
  Book& book = rating.book;
  if (model.preferences.repeats < 1 || !model.person || book.looks.rater) return false;
  std::vector<checks::PathPlot> path;
  path.reserve(book.plots.size());
  for (const PlanPlot& plot : book.plots) path.push_back({plot.row, plot.column});
  const std::string seed =
      format_date(turn.at.local_date) + " " + model.person->initials + " " + book.id.text();
  for (const checks::RepeatPlot& repeat :
       checks::repeat_plots(path, seed, model.preferences.repeats)) {
    if (repeat.after != book.present) continue;
    const PlanPlot& plot = book.plots.at(repeat.plot);
    const auto given = given_by(model, book, plot);
    if (!given || !can_come_back(model, book, plot) || was_repeated(model, book, plot) ||
        !long_ago(model, book, *given))
      return false;
    const Uuid subject = plot_subject(model, book, plot);
    if (!model.looked_again.insert(asked_key(model, book, subject)).second) return false;
    book.looks.look = SecondLook{subject, book.present};
    forget_begun_on(model, rating, subject);
    book.last = book.present;
    book.present = repeat.plot;
    book.looks.stake = repeat.plot;
    settle_focus(turn, rating);
    return true;
  }
  return false;
}

void end_look(const Turn& turn, Rating& rating) {
  Book& book = rating.book;
  if (!book.looks.look) return;
  const std::size_t after = book.looks.look->after;
  drop_look(turn.model, rating);
  book.last = book.present;
  book.looks.stake = next_open(turn.model, book, after);
  book.present = book.looks.stake.value_or(after);
  settle_focus(turn, rating);
}

void drop_look(const Model& model, Rating& rating) {
  rating.book.looks.stake.reset();
  const std::optional<SecondLook> look = rating.book.looks.look;
  if (!look) return;
  forget_begun_on(model, rating, look->subject);
  rating.book.looks.look.reset();
}

void look_taken_back(const Turn& turn, Rating& rating, const Act& act) {
  Book& book = rating.book;
  if (act.records.empty() || !turn.model.person) return;
  const Record& record = act.records.front();
  std::optional<SecondLook>& look = book.looks.look;
  book.looks.stake.reset();  // one takes back what one remembers, where one stands
  if (record.purpose == Purpose::kRepeat) {
    // It goes on to where the person is now: from the place before.
    const std::size_t before = (book.present + book.plots.size() - 1) % book.plots.size();
    look = SecondLook{record.subject.value_or(Uuid{}), look ? look->after : before};
  } else if (look) {
    turn.model.looked_again.erase(asked_key(turn.model, book, look->subject));
    drop_look(turn.model, rating);
  }
}

void look_again_at(const Turn& turn, const Act& act) {
  auto* const rating = std::get_if<Rating>(&turn.model.screen);
  if (rating == nullptr || act.records.front().purpose != Purpose::kRepeat) return;
  const std::size_t after = rating->book.present;
  rating->book.looks.look = SecondLook{act.records.front().subject.value_or(Uuid{}), after};
  settle_focus(turn, *rating);
}

bool asks_as_second(Turn& turn, const Book& book, const OccasionLoaded& loaded) {
  Model& model = turn.model;
  if (!model.person || book.occasion.job != Job::kRate) return false;
  if (model.looked_again.contains(asked_key(model, book, kWholeRating))) return false;
  AsSecond asked{loaded.trial, loaded.occasion, {}, 0, 0, 0};
  std::size_t own = 0;
  for (const PlanPlot& plot : book.plots) {
    if (plot_state(model, book, plot) != PlotState::kDone) ++asked.open;
    if (!can_come_back(model, book, plot)) continue;
    bool others = false;
    bool mine = false;
    const Uuid subject = plot_subject(model, book, plot);
    for (const std::string& measure : needed_on(model, book, plot)) {
      const Cell cell = cell_at(model, book, {subject, measure, 1});
      if (!cell.claim || !says_something(cell.claim->record) || !cell.claim->record.person)
        continue;
      const PersonId rater = *cell.claim->record.person;
      (rater == model.person->id ? mine : others) = true;
      if (rater == model.person->id) continue;
      const std::string initials = initials_of_rater(model, rater);
      if (std::ranges::find(asked.raters, initials) == asked.raters.end())
        asked.raters.push_back(initials);
    }
    own += mine ? 1 : 0;
    if (!others || mine) continue;
    ++asked.plots;
    asked.own += std::ranges::any_of(loaded.again, [&](const KnownClaim& claim) {
      return claim.record.purpose == Purpose::kSecond && claim.record.subject == subject &&
             claim.record.person == model.person->id && says_something(claim.record);
    });
  }
  if (asked.plots == 0 || (own > 0 && asked.open > 0)) return false;
  model.as_second = std::move(asked);
  turn.run(Cue{CueKind::kQuestioned});
  return true;
}

void answer_as_second(Turn& turn, const AnswerAsSecond& intent) {
  const std::optional<AsSecond> asked = std::exchange(turn.model.as_second, std::nullopt);
  if (!asked) return;
  if (intent.as == RateAs::kNotNow) return show_today(turn);
  if (intent.as == RateAs::kSecond) return open_as_second(turn, asked->trial, asked->occasion, "");
  // Who goes on with it is not asked each time; who only looks at a finished one is.
  if (asked->open > 0 && turn.model.person)
    turn.model.looked_again.insert(
        {turn.model.person->id, asked->occasion, turn.at.local_date, kWholeRating});
  Opening opening{asked->trial, asked->occasion, "", false, std::nullopt};
  opening.second = false;
  show_screen(turn, std::move(opening));
  turn.run(LoadOccasion{asked->trial, asked->occasion});
}

void take_second(const Model& model, Book& book, const OccasionLoaded& loaded) {
  if (!model.person) return;
  std::erase_if(book.plots, [&](const PlanPlot& plot) {
    const Uuid subject = plot_subject(model, book, plot);
    return std::ranges::any_of(needed_on(model, book, plot), [&](const std::string& measure) {
      const auto at = book.kept.find({subject, measure, 1});
      return at != book.kept.end() && at->second.record.person == model.person->id &&
             says_something(at->second.record);
    });
  });
  book.kept.clear();
  book.looks.rater = model.person->id;
  for (const KnownClaim& claim : loaded.again) {
    const Record& record = claim.record;
    if (record.subject && record.purpose == Purpose::kSecond && record.person == model.person->id)
      book.kept.emplace(slot_of(record), claim);
  }
}

bool leave_out_first(const Model& model, Book& book) {
  if (!hides_from_second(model, book.id)) return false;
  const auto others = std::erase_if(book.plots, [&](const PlanPlot& plot) {
    if (plot_state(model, book, plot) != PlotState::kDone || !can_come_back(model, book, plot))
      return false;
    const Uuid subject = plot_subject(model, book, plot);
    return std::ranges::any_of(needed_on(model, book, plot), [&](const std::string& measure) {
      const auto at = book.kept.find({subject, measure, 1});
      return at != book.kept.end() && at->second.record.person != model.person->id;
    });
  });
  return others > 0;
}

void look_by_another(Turn& turn) {
  Model& model = turn.model;
  if (model.as_second) {
    const AsSecond asked = *model.as_second;
    return open_occasion(turn, asked.trial, asked.occasion, "");
  }
  // A slide shows what stands, to whoever began it.
  auto* const review = std::get_if<Review>(&model.screen);
  if (review != nullptr && hides_from_second(model, review->book.id) &&
      std::holds_alternative<Sliding>(review->page))
    review->page = ReviewMap{};
  auto* const rating = std::get_if<Rating>(&model.screen);
  if (rating == nullptr) return;
  if (rating->book.looks.rater || hides_from_second(model, rating->book.id)) {
    const TrialId trial = trial_of(model, rating->book).plan.id();
    return open_occasion(turn, trial, rating->book.id, "");
  }
  end_look(turn, *rating);
}

Review without_others(const Model& model, Review review, bool& any) {
  any = hides_from_second(model, review.book.id);
  const auto of_others = [&](const Record& record) {
    return !model.person || record.person != model.person->id;
  };
  const auto leave_out = [&](Book& book) {
    std::erase_if(book.kept, [&](const auto& kept) { return of_others(kept.second.record); });
  };
  if (any) {
    leave_out(review.book);
    std::erase_if(review.again, [&](const KnownClaim& claim) { return of_others(claim.record); });
  }
  if (review.against && hides_from_second(model, review.against->id)) {
    any = true;
    leave_out(*review.against);
  }
  // A plot's history is of every occasion.
  if (auto* const history = std::get_if<PlotHistory>(&review.page)) {
    const auto left_out = std::erase_if(history->records, [&](const Record& record) {
      return record.occasion && hides_from_second(model, *record.occasion) && of_others(record);
    });
    any = any || left_out > 0;
  }
  return review;
}

void open_as_second(Turn& turn, TrialId trial, OccasionId occasion, const std::string& plot) {
  Opening opening{trial, occasion, plot, false, std::nullopt};
  opening.second = true;
  show_screen(turn, std::move(opening));
  turn.run(LoadOccasion{trial, occasion});
}

}  // namespace ligule::flow
