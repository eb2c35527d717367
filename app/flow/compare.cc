// One rating against another, to find plots that changed as no other did.
#include <algorithm>
#include <variant>

#include "app/flow/review.h"
#include "app/flow/turn.h"

namespace ligule::flow {

std::vector<PlanOccasion> comparable(const Model& model, const Review& review) {
  std::vector<PlanOccasion> found;
  const KnownTrial& trial = trial_of(model, review.book);
  for (const PlanOccasion& occasion : trial.plan.occasions) {
    if (trial.plan.occasion(occasion) == review.book.id) continue;
    Book other = review.book;
    other.occasion = occasion;
    const auto measures = measures_reviewed(model, other);
    if (std::ranges::find(measures, review.measure) != measures.end()) found.push_back(occasion);
  }
  return found;
}

void list_against(const Turn& turn, Review& review) {
  if (comparable(turn.model, review).empty()) return turn.notice("notice.nothing_to_compare");
  review.page = ReviewList{true};
}

void review_against(Turn& turn, Review& review, OccasionId occasion) {
  const TrialId trial = trial_of(turn.model, review.book).plan.id();
  const auto others = comparable(turn.model, review);
  const bool known = std::ranges::any_of(others, [&](const PlanOccasion& other) {
    return trial_of(turn.model, review.book).plan.occasion(other) == occasion;
  });
  if (!known) return;
  review.awaited = occasion;
  review.page = ReviewMap{};
  turn.run(LoadOccasion{trial, occasion});
}

bool compared(const Turn& turn, const OccasionLoaded& loaded) {
  auto* const review = std::get_if<Review>(&turn.model.screen);
  if (review == nullptr || review->awaited != loaded.occasion) return false;
  review->awaited.reset();
  review->against = open_book(turn.model, loaded);
  return true;
}

}  // namespace ligule::flow
