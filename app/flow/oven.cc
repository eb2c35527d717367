// How samples are dried: stated once, kept with every dried weight from then on.
#include <algorithm>

#include "app/flow/turn.h"
#include "storage/checks/drying.h"
#include "storage/trial/details.h"
#include "storage/trial/sample_bag.h"

namespace ligule::flow {

void show_oven(const Turn& turn, DryWeights& dry, bool open) {
  dry.oven.reset();
  if (!open) return;
  OvenSheet sheet;
  sheet.keypad.set(Field::kOvenCelsius, turn.model.oven.celsius);
  sheet.keypad.set(Field::kOvenHours, turn.model.oven.hours);
  sheet.keypad.focus(Field::kOvenCelsius);
  dry.oven = std::move(sheet);
}

void oven_done(Turn& turn, DryWeights& dry) {
  if (!dry.oven) return;
  if (dry.oven->keypad.active() == Field::kOvenCelsius)
    return dry.oven->keypad.focus(Field::kOvenHours);
  const std::string& celsius = dry.oven->keypad.text(Field::kOvenCelsius);
  const std::string& hours = dry.oven->keypad.text(Field::kOvenHours);
  const checks::OvenFinding finding = checks::judge_oven(celsius, hours);
  if (finding == checks::OvenFinding::kNoNumber || finding == checks::OvenFinding::kImpossible) {
    turn.notice(finding == checks::OvenFinding::kNoNumber ? "notice.oven_no_number"
                                                          : "notice.oven_impossible");
    return turn.run(Cue{CueKind::kRefused});
  }
  turn.model.oven.celsius = celsius;
  turn.model.oven.hours = hours;
  dry.oven.reset();
}

void know_oven(Model& model, const std::vector<OpenBag>& bags) {
  if (!(model.oven == Oven{})) return;
  const Record* newest = nullptr;
  for (const OpenBag& bag : bags) {
    if (!bag.dried || bag.dried->record.details.empty()) continue;
    if (newest == nullptr || newest->at.utc < bag.dried->record.at.utc) newest = &bag.dried->record;
  }
  if (newest == nullptr) return;
  model.oven.celsius = detail(newest->details, std::string(sample_bag::kOvenCelsius));
  model.oven.hours = detail(newest->details, std::string(sample_bag::kOvenHours));
  model.oven.until_constant = sample_bag::still_dries(*newest);
}

}  // namespace ligule::flow
