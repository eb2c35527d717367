// What came of reading the ledger: at the start, for an occasion, for the bags in the oven.
#include <algorithm>
#include <tuple>
#include <variant>

#include "app/flow/closing.h"
#include "app/flow/second_look.h"
#include "app/flow/turn.h"

namespace ligule::flow {
namespace {

// Answers for the day that were given before the program was closed hold on, those of a second
// person and of a second look too.
void recall_day_answers(Model& model, const OccasionLoaded& loaded) {
  const auto recall = [&](const KnownClaim& claim) {
    if (claim.record.at.local_date != model.now.local_date) return;
    for (const Answer& answer : claim.record.answers) {
      if (!checks::holds_for_day(answer)) continue;
      const DayAnswer given{loaded.occasion, model.now.local_date, answer};
      if (std::ranges::find(model.day_answers, given) == model.day_answers.end()) {
        model.day_answers.push_back(given);
      }
    }
  };
  std::ranges::for_each(loaded.claims, recall);
  std::ranges::for_each(loaded.again, recall);
}

}  // namespace

void started(Turn& turn, Started outcome) {
  Model& model = turn.model;
  model.setup = std::move(outcome.setup);
  model.trials = std::move(outcome.trials);
  model.people = std::move(outcome.people);
  model.names_shown.insert(outcome.names_shown.begin(), outcome.names_shown.end());
  use_units(model);
  if (std::holds_alternative<Starting>(model.screen)) model.screen = SignIn{};
}

void occasion_loaded(Turn& turn, OccasionLoaded loaded) {
  Model& model = turn.model;
  if (compared(turn, loaded) || looked_before_closing(turn, loaded)) return;
  const auto* const opening = std::get_if<Opening>(&model.screen);
  if (opening == nullptr || opening->occasion != loaded.occasion) return;  // went elsewhere
  const std::string plot = opening->plot;
  const bool review = opening->review;
  const std::optional<Sliding> sliding = opening->sliding;
  const bool sorts = opening->sorting;
  const bool questions = opening->questions;
  const std::optional<bool> second = opening->second;
  for (KnownTrial& trial : model.trials) {
    if (trial.plan.id() == loaded.trial) trial.as_sown = loaded.as_sown;
  }
  std::optional<Book> book = open_book(model, loaded);
  if (!book) {
    show_today(turn);
    return turn.notice("notice.unknown_occasion");
  }
  for (const PersonId person : loaded.names_shown_to) {
    model.names_shown.insert({person, loaded.occasion});
  }
  recall_day_answers(model, loaded);
  if (review) {
    begin_review(turn, std::move(*book), std::move(loaded.open_bags));
    std::get<Review>(model.screen).again = std::move(loaded.again);
    if (sliding) std::get<Review>(model.screen).page = *sliding;
    if (questions) std::get<Review>(model.screen).page = Questions{};
    return;
  }
  if (sorts) return begin_sorting(turn, *std::move(book), std::move(loaded), plot);
  if (!second && plot.empty() && asks_as_second(turn, *book, loaded)) return;
  if (second.value_or(false)) {
    take_second(model, *book, loaded);
  } else if (leave_out_first(model, *book)) {
    turn.notice("review.hidden");
    if (book->plots.empty()) return show_today(turn);
  }
  if (!book->plots.empty()) {
    // The first open plot: the one after the last, walking round.
    const auto first = next_open(model, *book, book->plots.size() - 1);
    book->present = place_of(*book, plot).value_or(first.value_or(0));
  }
  if (is_closed(model, book->id) && !book->looks.rater) turn.notice("notice.rating_closed");
  if (book->occasion.job == Job::kHarvest) {
    return begin_harvest(turn, std::move(*book), std::move(loaded));
  }
  Rating rating;
  rating.book = std::move(*book);
  settle_focus(turn, rating);
  model.screen = std::move(rating);
  take_up_cards(turn);
}

void bags_loaded(Turn& turn, BagsLoaded loaded) {
  auto* const dry = on<DryWeights>(turn);
  if (dry == nullptr) return;
  dry->bags = std::move(loaded.bags);
  dry->loaded = true;
  std::ranges::sort(dry->bags, [](const OpenBag& a, const OpenBag& b) {
    // Numbers as numbers: bag 9 before bag 10.
    if (a.number.size() != b.number.size()) return a.number.size() < b.number.size();
    return std::tie(a.number, a.filled, a.bag) < std::tie(b.number, b.filled, b.bag);
  });
  know_oven(turn.model, dry->bags);
  choose_unsaved(turn, *dry);
}

void failed(Turn& turn, const Failed& outcome) {
  if (auto* const review = on<Review>(turn)) review->page = ReviewMap{};
  if (on<Opening>(turn) != nullptr) turn.model.screen = OnToday{};
  turn.notice("notice.load_failed", {}, outcome.error);
}

}  // namespace ligule::flow
