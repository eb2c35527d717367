#include "app/flow/spare.h"

#include <algorithm>
#include <utility>
#include <variant>

#include "app/flow/copy_places.h"

namespace ligule::flow {
namespace {

// The book values are given in; Review and the sorting table make no block whole.
const Book* book_worked_on(const Model& model) {
  if (const auto* const rating = std::get_if<Rating>(&model.screen)) return &rating->book;
  if (const auto* const harvest = std::get_if<Harvest>(&model.screen)) return &harvest->book;
  return nullptr;
}

// The block of the act's plot, where nothing in it is open any more.
std::optional<int> block_made_whole(const Model& model, const Act& act) {
  const Book* const book = book_worked_on(model);
  if (book == nullptr || act.occasion != book->id) return std::nullopt;
  const auto place = place_of(*book, act.plot);
  if (!place) return std::nullopt;
  const int block = book->plots[*place].block;
  const bool whole = std::ranges::all_of(book->plots, [&](const PlanPlot& plot) {
    return plot.block != block || plot_state(model, *book, plot) != PlotState::kOpen;
  });
  return whole ? std::optional(block) : std::nullopt;
}

void copy_now(Turn& turn) {
  SpareWatch& watch = turn.model.spare;
  watch.running = true;
  watch.begun = turn.at.utc;
  watch.waiting.reset();
  turn.run(CopyLedger{});
}

}  // namespace

void copy_after(Turn& turn, const Act& act) {
  Model& model = turn.model;
  SpareWatch& watch = model.spare;
  if (!watch.waiting) watch.waiting = turn.at.utc;
  const auto block = block_made_whole(model, act);
  const std::optional<OccasionId> occasion = act.occasion;
  if (block && occasion && watch.blocks.insert({*occasion, *block}).second) {
    if (!watch.running) return copy_now(turn);
    watch.begun = turn.at.utc - kCopyEvery;  // due as soon as the one that runs is made
  }
  copy_in_time(turn);
}

void copy_in_time(Turn& turn) {
  const SpareWatch& watch = turn.model.spare;
  if (watch.running || !watch.waiting) return;
  const UtcInstant since = watch.begun.value_or(*watch.waiting);
  // A clock that was set back must not put it off for ever.
  if (turn.at.utc < since || turn.at.utc - since >= kCopyEvery) copy_now(turn);
}

void wait_for_copy(const Turn& turn) {
  const Today& today = turn.model.today;
  SpareWatch& watch = turn.model.spare;
  if (!today.newest || watch.running || watch.waiting) return;
  if (!today.spare || today.spare->at < today.newest->utc) watch.waiting = turn.at.utc;
}

void ledger_copied(Turn& turn, const LedgerCopied& outcome) {
  Model& model = turn.model;
  SpareWatch& watch = model.spare;
  watch.running = false;
  for (const SpareCopy& copy : outcome.made) model.today.spare = copy;
  const bool no_place = outcome.made.empty() && outcome.failed.empty();
  if (no_place) {  // the card was pulled
    model.today.spare.reset();
    model.today.places.clear();
  }
  // What nothing could be copied to is tried again in its time.
  if (outcome.made.empty()) watch.waiting = watch.begun;
  const bool told = std::exchange(watch.failed, outcome.made.empty() && !no_place);
  if (!outcome.failed.empty() && !told) {
    const NotCopied& first = outcome.failed.front();
    turn.notice("notice.spare_failed", {place_name(model, first.place)}, first.error);
  }
  if (!outcome.made.empty()) copy_in_time(turn);
}

void offer_copy(Trials& trials, const std::string& path) {
  const auto* const finding = std::get_if<FindingPlans>(&trials.page);
  if (finding == nullptr) return;
  const auto at = std::ranges::find(finding->copies, path, &FoundCopy::path);
  if (at == finding->copies.end()) return;
  if (const std::optional<Error>& refused = at->refused; refused)
    trials.page = FaultyFile{path, {Error(*refused)}};
  else
    trials.page = OfferedCopy{FoundCopy(*at)};
}

void go_on_from_copy(Turn& turn, Trials& trials) {
  auto* const offered = std::get_if<OfferedCopy>(&trials.page);
  if (offered == nullptr || offered->reading || !can_enter(turn.model)) return;
  offered->reading = true;
  turn.run(TakeOver{offered->copy.path});
}

void start_anew(Turn& turn, Started start) {
  Model& model = turn.model;
  // Whoever signed in while it was read is not in the ledger's list yet.
  std::vector<Person> before = std::move(model.people);
  started(turn, std::move(start));
  for (Person& person : before)
    if (std::ranges::find(model.people, person.id, &Person::id) == model.people.end())
      model.people.push_back(std::move(person));
  if (!model.spare.waiting) model.spare.waiting = turn.at.utc;
}

void taken_over(Turn& turn, TakenOver outcome) {
  start_anew(turn, std::move(outcome.start));
  // Whoever went elsewhere meanwhile stays there.
  auto* const trials = on<Trials>(turn);
  const bool waits = trials != nullptr && std::holds_alternative<OfferedCopy>(trials->page);
  if (waits)
    show_today(turn);
  else
    turn.run(LoadToday{});
  turn.notice("notice.taken_over", {std::to_string(outcome.records), outcome.device});
}

void not_taken_over(Turn& turn, const NotTakenOver& outcome) {
  auto* const trials = on<Trials>(turn);
  auto* const offered = trials == nullptr ? nullptr : std::get_if<OfferedCopy>(&trials->page);
  if (offered != nullptr) offered->reading = false;
  turn.notice("notice.not_taken_over", {}, outcome.error);
}

}  // namespace ligule::flow
