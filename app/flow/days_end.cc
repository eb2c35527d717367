// Closing the day: seal, then copy.
#include <algorithm>
#include <variant>

#include "app/flow/copy_places.h"
#include "app/flow/turn.h"

namespace ligule::flow {
namespace {

bool busy(const SealSteps& steps) {
  return std::holds_alternative<Sealing>(steps.seal) || std::holds_alternative<Copying>(steps.copy);
}

bool on_screen(const Model& model) {
  return std::holds_alternative<OnDaysEnd>(model.screen);
}

}  // namespace

std::string place_name(const Model& model, const std::string& path) {
  const auto& places = model.today.places;
  const auto known = std::ranges::find(places, path, &CopyPlace::path);
  return known != places.end() ? known->name : path.substr(path.rfind('/') + 1);
}

void show_days_end(Turn& turn) {
  show_screen(turn, OnDaysEnd{});
  if (!busy(turn.model.seal_steps)) turn.model.seal_steps = SealSteps{};
  turn.run(LoadToday{});
}

void seal_day(Turn& turn) {
  Model& model = turn.model;
  if (!on_screen(model) || busy(model.seal_steps)) return;
  if (!model.pending.empty()) return turn.notice("notice.still_saving");
  if (model.today.unsealed <= 0) return turn.notice("notice.nothing_to_seal");
  model.seal_steps = SealSteps{Sealing{}, NotCopiedYet{}};
  turn.run(Seal{});
}

void copy_to(Turn& turn, const CopyTo& intent) {
  Model& model = turn.model;
  if (!on_screen(model) || busy(model.seal_steps)) return;
  if (!model.today.last_seal) return turn.notice("notice.seal_first");
  model.seal_steps.copy = Copying{intent.place};
  turn.run(CopySeal{model.today.last_seal->file_name, intent.place});
}

void sealed(Turn& turn, const Sealed& outcome) {
  Model& model = turn.model;
  model.seal_steps.seal = SealDone{outcome.note};
  model.today.last_seal = outcome.note;
  model.today.unsealed = 0;
  turn.run(LoadToday{});
  if (!on_screen(model)) turn.notice("notice.sealed", {outcome.note.file_name});
}

void not_sealed(const Turn& turn, const NotSealed& outcome) {
  turn.model.seal_steps.seal = SealFailed{outcome.error};
  if (!on_screen(turn.model)) turn.notice("notice.not_sealed", {}, outcome.error);
}

void copied(const Turn& turn, const Copied& outcome) {
  turn.model.seal_steps.copy = CopyDone{outcome.note};
  turn.model.today.last_copy = outcome.note;
  if (!on_screen(turn.model))
    turn.notice("notice.copied", {place_name(turn.model, outcome.note.place)});
}

void not_copied(const Turn& turn, const NotCopied& outcome) {
  turn.model.seal_steps.copy = CopyFailed{outcome.place, outcome.error};
  if (!on_screen(turn.model))
    turn.notice("notice.not_copied", {place_name(turn.model, outcome.place)}, outcome.error);
}

}  // namespace ligule::flow
