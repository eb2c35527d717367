// What was asked about in an occasion, settled one value after the other.
#include <algorithm>
#include <cstdlib>
#include <map>
#include <set>
#include <utility>
#include <variant>

#include "app/flow/parts.h"
#include "app/flow/review.h"
#include "app/flow/turn.h"
#include "app/flow/view_parts.h"
#include "storage/checks/open_questions.h"

namespace ligule::flow {
namespace {

// Plots before and after it along the path that are shown beside it.
constexpr std::size_t kBeside = 2;

// Every slot of the occasion's plots and bags that anything was said about, along the path.
std::vector<std::pair<std::size_t, Slot>> slots_along(const Model& model, const Book& book) {
  std::map<Uuid, std::size_t> places;  // of a bag in several plots, the first
  for (std::size_t place = 0; place < book.plots.size(); ++place) {
    const PlanPlot& plot = book.plots[place];
    places.emplace(plot_subject(model, book, plot), place);
    for (const Cell& number : bag_numbers(model, book, plot))
      if (number.claim) places.emplace(bag_subject(*number.claim).uuid, place);
  }
  std::set<std::pair<std::size_t, Slot>> slots;
  const auto add = [&](const Slot& slot) {
    const auto at = places.find(slot.subject);
    if (at != places.end()) slots.emplace(at->second, slot);
  };
  for (const auto& [slot, claim] : book.kept) add(slot);
  for (const Act& act : model.pending)
    for (const Record& record : act.records)
      if (record.subject && act.occasion == book.id) add(slot_of(record));
  return {slots.begin(), slots.end()};
}

NeighbourView neighbour(const Model& model, const Book& book, const PlanPlot& plot,
                        std::string_view measure, int part) {
  NeighbourView view;
  view.plot = plot.number;
  auto slot = slot_on(model, book, plot, measure);
  if (!slot) return view;
  slot->part = part;
  const Cell cell = cell_at(model, book, *slot);
  view.mark = mark_of(cell);
  if (cell.claim)
    view.shown =
        full_text(scale_of(model, trial_of(model, book), plot, measure), cell.claim->record);
  return view;
}

// Along the path, then across it: lanes lie side by side, and the next one is passed much later.
std::vector<NeighbourView> beside(const Model& model, const Book& book, std::size_t place,
                                  const Record& record) {
  std::vector<NeighbourView> views;
  const std::size_t from = place > kBeside ? place - kBeside : 0;
  const std::size_t to = std::min(book.plots.size(), place + kBeside + 1);
  const auto add = [&](std::size_t at) -> NeighbourView& {
    return views.emplace_back(
        neighbour(model, book, book.plots.at(at), record.measure, at == place ? record.part : 1));
  };
  for (std::size_t at = from; at < to; ++at) add(at).here = at == place;
  const PlanPlot& here = book.plots.at(place);
  for (std::size_t at = 0; at < book.plots.size(); ++at) {
    const PlanPlot& other = book.plots.at(at);
    const bool next = book.along == PathAlong::kRows
                          ? other.column == here.column && std::abs(other.row - here.row) == 1
                          : other.row == here.row && std::abs(other.column - here.column) == 1;
    if (next && (at < from || at >= to)) add(at).across = true;
  }
  return views;
}

}  // namespace

std::vector<Questioned> questioned(const Model& model, const Book& book) {
  std::vector<Questioned> all;
  std::vector<Record> records;
  for (const auto& [place, slot] : slots_along(model, book)) {
    const Cell cell = cell_at(model, book, slot);
    if (!cell.claim) continue;
    if (cell.claim->record.answers.empty() && cell.claim->record.state != ValueState::kOnHold)
      continue;
    all.push_back({place, *cell.claim});
    records.push_back(cell.claim->record);
  }
  std::vector<Questioned> open;
  for (const std::size_t n : checks::open_questions(records)) open.push_back(std::move(all[n]));
  return open;
}

std::vector<Questioned>::const_iterator looked_at(const std::vector<Questioned>& all,
                                                  const Questions& page) {
  const auto at = std::ranges::find_if(
      all, [&](const Questioned& each) { return each.claim.record.id == page.at; });
  return at == all.end() ? all.begin() : at;
}

QuestionsView questions_view(const Model& model, const Review& review, const Questions& page) {
  const Book& book = review.book;
  const std::vector<Questioned> all = questioned(model, book);
  QuestionsView view;
  view.count = all.size();
  const auto at = looked_at(all, page);
  if (at == all.end()) return view;
  const PlanPlot& plot = book.plots.at(at->plot);
  const Record& record = at->claim.record;
  const Scale* const scale = scale_of(model, trial_of(model, book), plot, record.measure);
  view.place = static_cast<std::size_t>(at - all.begin()) + 1;
  if (at != all.begin()) view.before = std::prev(at)->claim.record.id;
  if (std::next(at) != all.end()) view.after = std::next(at)->claim.record.id;
  view.plot = plot.number;
  view.measure = record.measure;
  view.claim.id = record.id;
  view.claim.shown = full_text(scale, record);
  view.claim.who = initials_of(model, record);
  view.claim.date = format_date(record.at.local_date);
  view.claim.clock = format_clock(record.at);
  view.claim.mark = mark_of({at->claim, Durability::kKept});
  view.claim.word = record.state == ValueState::kZero ? "history.zero" : visit_word(scale, record);
  view.claim.said = said_word(record);
  for (const Answer& answer : record.answers) view.asked.push_back({answer.rule, answer.answer});
  view.beside = beside(model, book, at->plot, record);
  view.can_do = can_enter(model);
  if (at->claim.others == 0) view.reasons = reasons_of(Mend::kSettle);
  return view;
}

void show_questions(Review& review) {
  review.page = Questions{};
}

void show_question(Review& review, RecordId claim) {
  if (auto* const page = std::get_if<Questions>(&review.page)) page->at = claim;
}

void settle_question(Turn& turn, Review& review, const SettleQuestion& intent) {
  auto* const page = std::get_if<Questions>(&review.page);
  const auto reasons = reasons_of(Mend::kSettle);
  if (page == nullptr || !can_enter(turn.model) ||
      std::ranges::find(reasons, intent.reason) == reasons.end())
    return;
  const std::vector<Questioned> all = questioned(turn.model, review.book);
  const auto at = std::ranges::find_if(
      all, [&](const Questioned& each) { return each.claim.record.id == intent.claim; });
  // Where values contradict each other somebody chooses among them first.
  if (at == all.end() || at->claim.others > 0) return;
  // The next one comes up, at the end the first that was passed over.
  page->at.reset();
  if (std::next(at) != all.end()) page->at = std::next(at)->claim.record.id;
  Act act;
  act.kind = ActKind::kSettle;
  act.trial = at->claim.record.trial;
  act.occasion = review.book.id;
  act.plot = review.book.plots.at(at->plot).number;
  act.records.push_back(
      settlement_of(turn, at->claim.record, {at->claim.record.id}, intent.reason));
  commit(turn, std::move(act));
}

void mend_question(Turn& turn, Review& review, RecordId claim) {
  const std::vector<Questioned> all = questioned(turn.model, review.book);
  const auto at = std::ranges::find_if(
      all, [&](const Questioned& each) { return each.claim.record.id == claim; });
  if (at == all.end() || !can_enter(turn.model)) return;
  const std::string plot = review.book.plots.at(at->plot).number;
  show_history(turn, review, plot);
  if (auto* const history = std::get_if<PlotHistory>(&review.page)) history->question = claim;
}

}  // namespace ligule::flow
