#include "app/flow/low_stubble.h"

#include <optional>
#include <string>

#include "storage/checks/stubble.h"
#include "storage/trial/length_text.h"
#include "storage/trial/number.h"

namespace ligule::flow {
namespace {

// Inches as somebody reads them who works in `unit`; centimetres to one decimal.
std::string in_unit(double inches, const std::string& unit) {
  if (unit != "cm") return format_number(inches) + "\u00a0in";
  return format_fixed(convert<Centimetres>(Inches(inches)).value(), 1) + "\u00a0cm";
}

}  // namespace

bool asks_low_stubble(Turn& turn, const Harvest& harvest, std::string_view setting) {
  if (setting.find_first_of("0123456789") == std::string_view::npos) return false;
  const std::string& length = choices_of(turn.model).length;
  const auto set = inches_of(setting, length.empty() ? "in" : std::string_view(length));
  if (!set) {
    turn.notice("notice.stubble_unclear", {std::string(setting)});
    turn.run(Cue{CueKind::kRefused});
    return true;
  }
  const auto least =
      checks::least_stubble(trial_of(turn.model, harvest.book).plan, turn.model.setup.definitions);
  if (!least || !checks::is_low(*set, least)) return false;
  turn.model.low_stubble = LowStubble{std::string(setting), in_unit(*least, length)};
  turn.run(Cue{CueKind::kQuestioned});
  return true;
}

void answer_low_stubble(Turn& turn, bool go_on) {
  Model& model = turn.model;
  if (!model.low_stubble) return;
  model.low_stubble.reset();
  auto* const harvest = on<Harvest>(turn);
  auto* const head = harvest == nullptr ? nullptr : std::get_if<RunHead>(&harvest->step);
  if (head == nullptr) return;
  if (!go_on) return head->keypad.focus(Field::kStubble);
  head->low_meant = true;
  start_run(turn, *harvest);
}

}  // namespace ligule::flow
