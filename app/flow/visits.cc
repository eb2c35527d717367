// Dates reached: at each visit the plots that reached a stage are tapped, the others said not yet.
#include <algorithm>

#include "app/flow/gather.h"
#include "app/flow/season.h"
#include "storage/trial/reached.h"

namespace ligule::flow {
namespace {

// Of the measure whose visits are open on the pad; null: another pad is, or the plot's species has
// none.
const Scale* scale_on_pad(const Turn& turn, const Rating& rating, const PlanPlot& plot) {
  if (rating.focus.empty()) return nullptr;
  const Scale* const scale =
      scale_of(turn.model, trial_of(turn.model, rating.book), plot, rating.focus);
  return scale != nullptr && scale->kind == ScaleKind::kReached ? scale : nullptr;
}

// The same where something can be said now.
const Scale* scale_visited(const Turn& turn, const Rating& rating, const PlanPlot& plot) {
  return can_enter(turn.model) ? scale_on_pad(turn, rating, plot) : nullptr;
}

Slot slot_today(const Turn& turn, const Rating& rating, const PlanPlot& plot) {
  return {plot_subject(turn.model, rating.book, plot), rating.focus,
          visit_part(turn.at.local_date, rating.book.occasion.year)};
}

Draft visit_draft(const Turn& turn, const Rating& rating, const PlanPlot& plot, const Scale& scale,
                  bool reached) {
  const Book& book = rating.book;
  const KnownTrial& trial = trial_of(turn.model, book);
  const std::string& code = reached ? scale.steps.back().code : scale.steps.front().code;
  checks::Verdict verdict =
      checks::judge({rating.focus, &scale, code, "", std::nullopt}, trial.plan,
                    history_of(turn, rating.book, plot, rating.focus));
  const Slot slot = slot_today(turn, rating, plot);
  const Cell cell = cell_at(turn.model, book, slot);
  Draft draft = value_draft(turn, {&trial, book.id, slot, std::nullopt, &scale}, verdict.value,
                            ValueState::kValue, Source::kTapped, cell.claim, "looked_again");
  draft.record.answers = std::move(verdict.answered);
  draft.open = std::move(verdict.findings);
  return draft;
}

// Whether nobody said anything of this plot today though it has no date yet.
bool unsaid(const Turn& turn, const Rating& rating, const PlanPlot& plot) {
  return scale_on_pad(turn, rating, plot) != nullptr &&
         cell_of(turn.model, rating.book, plot, rating.focus).open() &&
         !cell_at(turn.model, rating.book, slot_today(turn, rating, plot)).claim;
}

void take_back_today(Turn& turn, const Rating& rating, const PlanPlot& plot,
                     const KnownClaim& claim) {
  Act act;
  act.kind = ActKind::kTakeBack;
  act.trial = claim.record.trial;
  act.occasion = rating.book.id;
  act.plot = plot.number;
  act.records.push_back(take_back_record(
      turn, claim, claim.record.replaces() ? claim.before : std::optional<Record>()));
  act.before.emplace_back(claim);
  commit(turn, std::move(act));
}

}  // namespace

void use_pad(Turn& turn, Rating& rating, const MarkReached& intent) {
  Book& book = rating.book;
  const auto place = place_of(book, intent.plot);
  if (!place) return;
  const PlanPlot plot = book.plots.at(*place);
  const Scale* const scale = scale_visited(turn, rating, plot);
  if (scale == nullptr) return;
  rating.block = plot.block;
  const Cell today = cell_at(turn.model, book, slot_today(turn, rating, plot));
  if (today.claim && today.claim->record.entered == scale->steps.back().code)
    return take_back_today(turn, rating, plot, *today.claim);
  // What was reached before stays so.
  if (!cell_of(turn.model, book, plot, rating.focus).open()) return;
  std::vector<Draft> drafts;
  drafts.push_back(visit_draft(turn, rating, plot, *scale, true));
  keep_or_ask(turn, ActKind::kValues, plot.number, std::move(drafts));
}

void use_pad(Turn& turn, Rating& rating, const OthersNotYet& /*intent*/) {
  const Book& book = rating.book;
  if (book.plots.empty()) return;
  const int block = block_shown(rating);
  std::vector<Draft> drafts;
  std::string first;
  for (const PlanPlot& plot : book.plots) {
    const Scale* const scale = scale_visited(turn, rating, plot);
    if (plot.block != block || scale == nullptr) continue;
    if (!unsaid(turn, rating, plot)) continue;
    if (first.empty()) first = plot.number;
    drafts.push_back(visit_draft(turn, rating, plot, *scale, false));
  }
  rating.block = block;
  keep_or_ask(turn, ActKind::kValues, first, std::move(drafts));
}

void use_pad(Turn& turn, Rating& rating, const ShowBlock& intent) {
  const auto at = std::ranges::find(rating.book.plots, intent.block, &PlanPlot::block);
  if (at == rating.book.plots.end() || scale_visited(turn, rating, *at) == nullptr) return;
  rating.block = intent.block;
}

bool visited(const Turn& turn, Rating& rating, const Act& act) {
  Book& book = rating.book;
  const Scale* const scale = scale_on_pad(turn, rating, book.plots.at(book.present));
  if (scale == nullptr || act.kind != ActKind::kValues ||
      std::ranges::find(act.records, rating.focus, &Record::measure) == act.records.end())
    return false;
  const auto rest = std::ranges::find_if(act.records, [&](const Record& record) {
    return record.measure == rating.focus && record.entered == scale->steps.front().code;
  });
  // Plots tapped one by one may be tapped again: only the rest of a block said in one closes it.
  if (rest == act.records.end()) return true;
  const int block = block_shown(rating);
  const auto looked_at = [&](const PlanPlot& plot) {
    return plot.block != block || !unsaid(turn, rating, plot);
  };
  if (!std::ranges::all_of(book.plots, looked_at)) return true;
  const auto open = [&](const PlanPlot& plot) { return unsaid(turn, rating, plot); };
  const auto end = book.plots.end();
  const auto here = std::ranges::find(book.plots, block, &PlanPlot::block);
  // Onward along the path first, then what was left out before.
  auto next = std::find_if(here, end, open);
  if (next == end) next = std::find_if(book.plots.begin(), here, open);
  if (next == end || !open(*next)) return true;
  const auto first = std::ranges::find(book.plots, next->block, &PlanPlot::block);
  book.last = book.present;
  book.present = static_cast<std::size_t>(first - book.plots.begin());
  rating.block = first->block;
  return true;
}

}  // namespace ligule::flow
