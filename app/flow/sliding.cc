// The Slide screen: which run of plots, and how far.
#include <algorithm>
#include <variant>

#include "app/flow/seconds.h"
#include "app/flow/slide.h"
#include "app/flow/stake.h"
#include "app/flow/turn.h"

namespace ligule::flow {
namespace {

Sliding* sliding_on(Turn& turn) {
  auto* const review = on<Review>(turn);
  return review == nullptr ? nullptr : std::get_if<Sliding>(&review->page);
}

// The whole path, as far as something stands on it.
SlideRun all_that_stands(const Model& model, const Book& book) {
  SlideRun run;
  for (const PlanPlot& plot : book.plots) {
    if (holding_of(model, book, plot).empty()) continue;
    if (run.from.empty()) run.from = plot.number;
    run.to = plot.number;
  }
  return run;
}

std::string along(const Book& book, const std::string& plot, int by) {
  const auto place = place_of(book, plot);
  if (!place) return plot;
  const auto last = static_cast<std::ptrdiff_t>(book.plots.size()) - 1;
  const auto to = std::clamp<std::ptrdiff_t>(static_cast<std::ptrdiff_t>(*place) + by, 0, last);
  return book.plots.at(static_cast<std::size_t>(to)).number;
}

void move_run(const Book& book, SlideRun& run, int by) {
  run.from = along(book, run.from, by);
  run.to = along(book, run.to, by);
}

}  // namespace

void show_slide(Turn& turn) {
  auto* const review = on<Review>(turn);
  if (review == nullptr || review->book.plots.empty()) return;
  if (hides_from_second(turn.model, review->book.id)) return turn.notice("review.hidden");
  const SlideRun run = all_that_stands(turn.model, review->book);
  if (run.from.empty()) return turn.notice("notice.nothing_to_slide");
  review->page = Sliding{run, false, std::nullopt};
}

void slide_slipped(Turn& turn) {
  const Book* const book = entry_book(turn.model.screen);
  if (book == nullptr || !book->slipped) return;
  const Slipped slipped = *book->slipped;
  Opening opening{trial_of(turn.model, *book).plan.id(), book->id, "", true, std::nullopt};
  opening.sliding =
      Sliding{{slipped.from, slipped.to, slipped.by}, false, book->plots.at(book->present).number};
  turn.run(LoadOccasion{opening.trial, opening.occasion});
  show_screen(turn, std::move(opening));
}

void choose_slide_end(Turn& turn, bool to) {
  if (Sliding* const sliding = sliding_on(turn)) sliding->choosing_to = to;
}

void choose_slide_plot(Turn& turn, const std::string& plot) {
  Sliding* const sliding = sliding_on(turn);
  if (sliding == nullptr) return;
  const Book& book = on<Review>(turn)->book;
  const auto place = place_of(book, plot);
  if (!place) return;
  SlideRun& run = sliding->run;
  (sliding->choosing_to ? run.to : run.from) = plot;
  // An end that would come before the beginning becomes both.
  if (place_of(book, run.to) < place_of(book, run.from)) run.from = run.to = plot;
  sliding->choosing_to = !sliding->choosing_to;
}

void slide_by(Turn& turn, int by) {
  Sliding* const sliding = sliding_on(turn);
  if (sliding == nullptr) return;
  const auto most = static_cast<int>(on<Review>(turn)->book.plots.size()) - 1;
  sliding->run.by = std::clamp(sliding->run.by + by, -most, most);
}

void do_slide(Turn& turn) {
  Sliding* const sliding = sliding_on(turn);
  if (sliding == nullptr || !can_enter(turn.model) || sliding->run.by == 0) return;
  const Book& book = on<Review>(turn)->book;
  Act act = slide_act(turn, book, sliding->run);
  if (act.records.empty()) return;
  const int by = sliding->run.by;
  move_run(book, sliding->run, by);
  sliding->run.by = 0;
  commit(turn, std::move(act));
}

void slide_taken_back(Turn& turn, const Act& slide) {
  Sliding* const sliding = sliding_on(turn);
  if (sliding == nullptr) return;
  sliding->run = slide.slide;
  sliding->run.by = 0;
}

}  // namespace ligule::flow
