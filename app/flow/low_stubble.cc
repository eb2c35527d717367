#include "app/flow/low_stubble.h"

#include <algorithm>
#include <cstddef>
#include <optional>
#include <string>

#include "storage/trial/number.h"
#include "storage/trial/unit_names.h"

namespace ligule::flow {
namespace {

constexpr double kInch = 0.0254;  // metres, exactly
constexpr std::string_view kDigits = "0123456789.,";

// Inches of a unit as people write it; empty: it is none.
std::optional<double> inches_in(std::string_view unit) {
  for (const char* inch : {"in", "in.", "inch", "inches", "\"", "pulg", "pulgadas"})
    if (unit == inch) return 1;
  if (unit == "mm") return 0.001 / kInch;
  const auto one = length_in(1, unit);
  return one ? std::optional(one->value() / kInch) : std::nullopt;
}

// "3 in", "8 cm", "1/2 inch", "1,5 in"; of "2-3 in" the lower end. unit: of a number without one.
std::optional<double> inches_of(std::string_view text, std::string_view unit) {
  const auto number = [&text]() -> std::optional<double> {
    const std::size_t size = std::min(text.find_first_not_of(kDigits), text.size());
    std::string digits(text.substr(0, size));
    std::ranges::replace(digits, ',', '.');
    const auto value = parse_number(digits);
    if (!value) return std::nullopt;
    text.remove_prefix(size);
    return *value;
  };
  const auto skip = [&text](std::string_view what) {
    text.remove_prefix(std::min(text.find_first_not_of(what), text.size()));
  };
  skip(" ");
  auto value = number();
  if (!value) return std::nullopt;
  if (text.starts_with('/')) {
    skip("/");
    const auto below = number();
    if (!below || *below <= 0) return std::nullopt;
    *value /= *below;
  } else if (text.starts_with('-')) {
    skip("-");
    if (!number()) return std::nullopt;
  }
  skip(" ");
  while (text.ends_with(' ')) text.remove_suffix(1);
  const auto one = inches_in(text.empty() ? unit : text);
  return one ? std::optional(*value * *one) : std::nullopt;
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
  if (setting.find_first_of("0123456789") == std::string_view::npos) return false;
  const std::string& length = choices_of(turn.model).length;
  const auto set = inches_of(setting, length.empty() ? "in" : std::string_view(length));
  if (!set) {
    turn.notice("notice.stubble_unclear", {std::string(setting)});
    turn.run(Cue{CueKind::kRefused});
    return true;
  }
  const auto least = least_inches(turn.model, trial_of(turn.model, harvest.book).plan);
  // A thousandth is what converting to inches and back may leave.
  if (!least || *set >= *least - 0.001) return false;
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
