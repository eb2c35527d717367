#include "app/flow/low_stubble.h"

#include <algorithm>
#include <optional>
#include <string>

#include "storage/trial/number.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

constexpr double kInch = 0.0254;  // metres, exactly

// "3 in", "8 cm", "3": a number is in inches unless it says otherwise.
std::optional<double> inches_of(std::string_view text) {
  const auto from = text.find_first_not_of(' ');
  if (from == std::string_view::npos) return std::nullopt;
  text.remove_prefix(from);
  const std::string_view number = text.substr(0, text.find_first_not_of("0123456789.", 0));
  const auto value = parse_number(number);
  if (!value) return std::nullopt;
  std::string_view unit = text.substr(number.size());
  if (const auto at = unit.find_first_not_of(' '); at != std::string_view::npos)
    unit.remove_prefix(at);
  else
    unit = "in";
  unit = unit.substr(0, unit.find_last_not_of(' ') + 1);
  const auto length = length_in(*value, unit);
  if (!length) return std::nullopt;
  return length->value() / kInch;
}

// Of everything that grows in the trial what bears least.
std::optional<double> least_inches(const Model& model, const Plan& plan) {
  std::optional<double> least;
  for (const PlanEntry& entry : plan.entries) {
    const auto& all = model.setup.definitions.species;
    const auto species = std::ranges::find(all, entry.species, &Species::code);
    if (species == all.end()) continue;
    const std::optional<double> bears = species->stubble_in;
    if (bears) least = std::max(least.value_or(0), *bears);
  }
  return least;
}

}  // namespace

bool asks_low_stubble(Turn& turn, const Harvest& harvest, std::string_view setting) {
  const auto set = inches_of(setting);
  const auto least = least_inches(turn.model, trial_of(turn.model, harvest.book).plan);
  // A thousandth is what converting to inches and back may leave.
  if (!set || !least || *set >= *least - 0.001) return false;
  turn.model.low_stubble = LowStubble{std::string(setting), format_number(*least)};
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
