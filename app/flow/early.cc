#include "app/flow/early.h"

#include <algorithm>

namespace ligule::flow {
namespace {

bool begun(const Model& model, OccasionId occasion) {
  const auto at = std::ranges::find(model.today.progress, occasion, &OccasionProgress::occasion);
  return at != model.today.progress.end() && (at->done > 0 || at->later > 0 || at->closed);
}

}  // namespace

bool asks_early(Turn& turn, const OpenOccasion& intent) {
  Model& model = turn.model;
  if (model.meant_early.contains(intent.occasion) || begun(model, intent.occasion)) return false;
  for (const KnownTrial& trial : model.trials) {
    if (trial.plan.id() != intent.trial) continue;
    const PlanOccasion* const occasion = trial.plan.find_occasion(intent.occasion);
    if (occasion == nullptr || occasion->job != Job::kHarvest || !occasion->due) return false;
    if (*occasion->due <= turn.at.local_date) return false;
    model.early = Early{intent.trial, intent.occasion, occasion->cutting, *occasion->due};
    turn.run(Cue{CueKind::kQuestioned});
    return true;
  }
  return false;
}

void answer_early(Turn& turn, const AnswerEarly& intent) {
  const std::optional<Early> early = turn.model.early;
  if (!early) return;
  turn.model.early.reset();
  if (!intent.weigh) return;
  turn.model.meant_early.insert(early->occasion);
  open_occasion(turn, early->trial, early->occasion, "");
}

}  // namespace ligule::flow
