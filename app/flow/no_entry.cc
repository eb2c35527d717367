#include "app/flow/no_entry.h"

#include <algorithm>
#include <utility>

#include "app/flow/early.h"
#include "app/flow/progress.h"
#include "app/flow/trials.h"
#include "app/flow/trials_codes.h"
#include "storage/trial/details.h"
#include "storage/trial/trial_event.h"

namespace ligule::flow {
namespace {

NoEntryView view_of_spray(const Model& model, const Spray& spray) {
  NoEntryView view;
  if (const KnownTrial* const trial = trial_with(model, spray.trial)) {
    view.trial = trial->plan.codes.trial;
    view.field = trial->plan.field;
  }
  view.block = spray.block;
  view.on = spray.on;
  view.material = spray.material;
  view.until = until_text(spray.no_entry, model.now.offset);
  return view;
}

// That nobody knows the end of, then the longest.
bool before(const NoEntryView& a, const NoEntryView& b) {
  if (a.beside != b.beside) return b.beside;
  if (a.until.empty() != b.until.empty()) return a.until.empty();
  return a.until > b.until;
}

bool on_one_field(const Plan& a, const Plan& b) {
  return !a.field.empty() && a.field == b.field && a.codes.station == b.codes.station &&
         a.codes.site == b.codes.site;
}

// Everywhere, or of a trial and of those beside it on its field; its own first.
std::vector<NoEntryView> keeping_out(const Model& model, const KnownTrial* trial) {
  std::vector<NoEntryView> views;
  if (!model.now.local_date.ok()) return views;
  for (const Spray& spray : model.today.sprays) {
    const KnownTrial* const sprayed = trial_with(model, spray.trial);
    if (sprayed == nullptr || !keeps_out(spray.no_entry, model.now)) continue;
    const bool beside = trial != nullptr && sprayed != trial;
    if (beside && !on_one_field(sprayed->plan, trial->plan)) continue;
    views.push_back(view_of_spray(model, spray));
    views.back().beside = beside;
  }
  std::ranges::stable_sort(views, before);
  return views;
}

Act gone_in(const Turn& turn, const KnownTrial& trial, OccasionId occasion, bool beside) {
  Record record = about_trial(turn, trial, kind::kEvent);
  record.entered = beside ? kWentBeside : kWentIn;
  if (!beside) record.reason = kLabelAllows;
  record.details =
      details_text({{"occasion", occasion.text()}, {"on", format_date(turn.at.local_date)}});
  Act act;
  act.kind = ActKind::kEvent;
  act.trial = record.trial;
  act.records.push_back(std::move(record));
  return act;
}

}  // namespace

std::optional<Spray> spray_of(const Record& event) {
  const auto no_entry = no_entry_of(event);
  if (!no_entry || no_entry->by == NoEntryBy::kNone || !event.trial) return std::nullopt;
  Spray spray{event.id,
              *event.trial,
              detail(event.details, "on"),
              detail(event.details, "block"),
              detail(event.details, std::string(event_key::kMaterial)),
              *no_entry};
  if (spray.on.empty()) spray.on = format_date(event.at.local_date);
  return spray;
}

std::vector<NoEntryView> no_entry_views(const Model& model) {
  return keeping_out(model, nullptr);
}

bool asks_no_entry(Turn& turn, const OpenOccasion& intent) {
  Model& model = turn.model;
  if (!model.person) return false;
  const KnownTrial* const trial = trial_with(model, intent.trial);
  if (trial == nullptr) return false;
  const std::vector<NoEntryView> sprays = keeping_out(model, trial);
  if (sprays.empty()) return false;
  if (model.went_in.contains({model.person->id, intent.occasion, turn.at.local_date})) return false;
  model.stay_out = StayOut{intent.trial, intent.occasion, sprays.front()};
  turn.run(Cue{CueKind::kQuestioned});
  return true;
}

void answer_no_entry(Turn& turn, const AnswerNoEntry& intent) {
  Model& model = turn.model;
  const std::optional<StayOut> asked = std::exchange(model.stay_out, std::nullopt);
  if (!asked || !intent.go_in || !model.person || !can_enter(model)) return;
  const KnownTrial* const trial = trial_with(model, asked->trial);
  if (trial == nullptr) return;
  model.went_in.insert({model.person->id, asked->occasion, turn.at.local_date});
  commit(turn, gone_in(turn, *trial, asked->occasion, asked->spray.beside));
  if (!asks_early(turn, {asked->trial, asked->occasion}))
    open_occasion(turn, asked->trial, asked->occasion, "");
}

void forget_gone_in(Model& model, const Record& record) {
  if ((record.entered != kWentIn && record.entered != kWentBeside) || !record.person) return;
  const std::string occasion = detail(record.details, "occasion");
  std::erase_if(model.went_in, [&](const auto& said) {
    const auto& [person, where, day] = said;
    return person == record.person && where.text() == occasion && day == record.at.local_date;
  });
}

void sprays_kept(Model& model, const Record& record) {
  if (auto spray = spray_of(record)) {
    model.today.sprays.push_back(*std::move(spray));
  } else if (takes_event_back(record)) {
    std::erase_if(model.today.sprays,
                  [&](const Spray& each) { return each.event == record.targets.front(); });
  }
}

}  // namespace ligule::flow
