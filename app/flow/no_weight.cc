#include "app/flow/no_weight.h"

#include <algorithm>
#include <string>

#include "app/flow/weighing.h"

namespace ligule::flow {
void say_no_weight(Turn& turn, std::string_view reason) {
  Weighing* const weighing = weighing_on(turn);
  const auto* const known = std::ranges::find(kNoWeightReasons, reason, &NoWeightReason::code);
  if (weighing == nullptr || known == kNoWeightReasons.end() || !can_enter(turn.model)) return;
  auto& harvest = std::get<Harvest>(turn.model.screen);
  if (harvest.book.plots.empty() || weighing->bag > 1) return;
  weighing->page = PlotPage::kPad;
  const KnownTrial& trial = trial_of(turn.model, harvest.book);
  const PlanPlot& plot = harvest.book.plots.at(harvest.book.present);
  const Scale* const scale = scale_of(turn.model, trial, plot, measure::kGrossWeight);
  if (scale == nullptr) {
    return refuse(turn, *weighing, Field::kGross, "notice.no_scale",
                  {std::string(measure::kGrossWeight)});
  }
  const Slot slot{plot_subject(turn.model, harvest.book, plot), std::string(measure::kGrossWeight),
                  1};
  const Cell standing = cell_at(turn.model, harvest.book, slot);
  const About about{&trial, harvest.book.id, slot, weighing->run.id, scale};
  const ValueState state = known->zero ? ValueState::kZero : ValueState::kMissing;
  Draft draft = value_draft(turn, about, {}, state, Source::kTapped, standing.claim, known->code);
  draft.record.reason = known->code;
  std::vector<Draft> drafts;
  drafts.push_back(std::move(draft));
  keep_or_ask(turn, ActKind::kValues, plot.number, std::move(drafts));
}

}  // namespace ligule::flow
