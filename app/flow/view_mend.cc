// A standing value that is being put right.
#include <variant>

#include "app/flow/parts.h"
#include "app/flow/review.h"
#include "app/flow/view_parts.h"

namespace ligule::flow {
MendView mend_view(const Model& model, const Review& review, const Record& record) {
  MendView view;
  const auto& history = std::get<PlotHistory>(review.page);
  if (!history.mending) return view;
  const Mending& mending = *history.mending;
  view.plot = history.plot;
  view.measure = record.measure;
  view.what = mending.what;
  view.ways = ways_of(history, record);
  view.reasons = reasons_of(mending.what);
  const Scale* const scale = scale_of(model, review, record);
  for (const Record& claim : standing_beside(history, record)) {
    const Cell cell{KnownClaim{claim, std::nullopt, claim.id, 0}, Durability::kKept};
    const bool zero = claim.state == ValueState::kZero;
    view.claims.push_back({claim.id, full_text(scale, claim), initials_of(model, claim),
                           format_date(claim.at.local_date), format_clock(claim.at), mark_of(cell),
                           claim.id == record.id, zero ? "history.zero" : visit_word(scale, claim),
                           said_word(claim)});
  }
  view.can_do = can_enter(model);
  if (mending.what != Mend::kCorrect) return view;
  if (scale == nullptr) return view;
  const Cell cell = cell_at(model, review.book, slot_of(record));
  view.unit = unit_for(model.setup, record.measure, *scale, cell);
  // The steps of a label say what its parts are; it is typed.
  const bool label = scale->kind == ScaleKind::kLabel;
  view.pad = scale->steps.empty() || label ? MendPad::kNumber : MendPad::kSteps;
  view.decimals = !label;
  view.scale = scale->code;
  view.kind = scale->kind;
  view.own_words = trial_of(model, review.book).plan.find_score(record.measure) == scale;
  for (const ScaleStep& step : scale->steps) {
    if (label) break;
    const std::string word = view.own_words ? step.name : step_word(*scale, step.code);
    view.choices.push_back({step.code, word, step.value, step.code == mending.chosen});
  }
  view.typed = mending.keypad.text(mending.keypad.active());
  view.can_do = view.can_do && !(view.pad == MendPad::kSteps ? mending.chosen : view.typed).empty();
  return view;
}

}  // namespace ligule::flow
