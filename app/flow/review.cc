// Review: looking back over an occasion, plot by plot.
#include <algorithm>
#include <variant>

#include "app/flow/review.h"
#include "app/flow/turn.h"

namespace ligule::flow {

void show_review(Turn& turn) {
  const OccasionProgress* newest = nullptr;
  for (const OccasionProgress& progress : turn.model.today.progress) {
    // Today's work before older work, older work before none; of equals the later in the plan.
    const auto weight = [](const OccasionProgress& of) {
      return of.values_today > 0 ? 2 : (of.done > 0 || of.later > 0 ? 1 : 0);
    };
    if (newest == nullptr || weight(progress) >= weight(*newest)) newest = &progress;
    if (weight(*newest) == 0) newest = &turn.model.today.progress.front();
  }
  if (newest != nullptr) return review_occasion(turn, newest->trial, newest->occasion);
  for (const KnownTrial& trial : turn.model.trials) {
    if (trial.plan.occasions.empty()) continue;
    return review_occasion(turn, trial.plan.id(),
                           trial.plan.occasion(trial.plan.occasions.front()));
  }
  turn.notice("notice.nothing_to_review");
}

void review_occasion(Turn& turn, TrialId trial, OccasionId occasion, bool questions) {
  Opening opening{trial, occasion, "", true};
  opening.questions = questions;
  show_screen(turn, std::move(opening));
  turn.run(LoadOccasion{trial, occasion});
}

void begin_review(const Turn& turn, Book book, std::vector<OpenBag> open_bags) {
  Review review;
  review.book = std::move(book);
  review.open_bags = std::move(open_bags);
  const auto measures = measures_reviewed(turn.model, review.book);
  if (!measures.empty()) review.measure = measures.front();
  turn.model.screen = std::move(review);
}

void review_measure(const Turn& turn, Review& review, const std::string& measure) {
  const auto measures = measures_reviewed(turn.model, review.book);
  if (std::ranges::find(measures, measure) == measures.end()) return;
  review.measure = measure;
  review.page = ReviewMap{};
}

void show_history(Turn& turn, Review& review, const std::string& plot) {
  const KnownTrial& trial = trial_of(turn.model, review.book);
  if (trial.plan.find_plot(plot) == nullptr) return turn.notice("notice.unknown_plot", {plot});
  review.page = PlotHistory{plot, false, {}, std::nullopt};
  turn.run(LoadHistory{trial.plan.id(), plot});
}

void history_loaded(const Turn& turn, HistoryLoaded loaded) {
  auto* const review = std::get_if<Review>(&turn.model.screen);
  auto* const history = review == nullptr ? nullptr : std::get_if<PlotHistory>(&review->page);
  if (history == nullptr || history->plot != loaded.plot) return;  // went elsewhere
  history->records = std::move(loaded.records);
  history->loaded = true;
  if (!history->question || history->mending) return;
  mend_value(turn, *review, *history->question);
}

void reviewed(Review& review) {
  auto* const history = std::get_if<PlotHistory>(&review.page);
  if (history == nullptr) return;
  history->mending.reset();
  if (history->question) review.page = Questions{};
}

void look_again(Turn& turn, const Review& review) {
  const auto* const history = std::get_if<PlotHistory>(&review.page);
  if (history == nullptr) return;
  turn.run(LoadHistory{trial_of(turn.model, review.book).plan.id(), history->plot});
}

void review_back(Turn& turn, Review& review) {
  if (std::holds_alternative<ReviewMap>(review.page)) return show_today(turn);
  const auto* const sliding = std::get_if<Sliding>(&review.page);
  if (sliding != nullptr && sliding->work_at) {
    const std::string plot = *sliding->work_at;
    return open_occasion(turn, trial_of(turn.model, review.book).plan.id(), review.book.id, plot);
  }
  auto* const history = std::get_if<PlotHistory>(&review.page);
  if (history != nullptr && history->question) {
    review.page = Questions{history->question};
    return;
  }
  if (history != nullptr && history->mending) return history->mending.reset();
  review.page = ReviewMap{};
}

std::vector<std::string> measures_reviewed(const Model& model, const Book& book) {
  std::vector<std::string> measures;
  const auto add = [&](std::string_view measure) {
    // Words, and five numbers of bags in one cell: both are read in the plot's history.
    if (measure == measure::kNote || measure == measure::kPartBag) return;
    if (std::ranges::find(measures, measure) == measures.end()) measures.emplace_back(measure);
  };
  const KnownTrial& trial = trial_of(model, book);
  for (const PlanPlot& plot : book.plots) {
    for (const std::string& measure :
         measures_of(trial, book.occasion, plot, model.setup.definitions)) {
      add(measure);
    }
  }
  if (book.occasion.job != Job::kHarvest) return measures;
  for (const std::string_view measure :
       {measure::kGrossWeight, measure::kTareWeight, measure::kBagNumber, measure::kSampleFresh,
        measure::kSampleDry}) {
    add(measure);
  }
  return measures;
}

}  // namespace ligule::flow
