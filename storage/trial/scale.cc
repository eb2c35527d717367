#include "storage/trial/scale.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "storage/trial/composite.h"
#include "storage/trial/identity.h"
#include "storage/trial/number.h"
#include "storage/trial/reached.h"
#include "storage/trial/unit_names.h"

namespace ligule {
namespace {

constexpr int kMostReadings = 20;

std::unexpected<Error> refuse(const Scale& scale, std::string_view text, const std::string& mend) {
  return fail(ErrorKind::kRefused,
              "'" + std::string(text) + "' cannot stand on scale " + scale.code, {}, mend);
}

std::string range_of(const Scale& scale) {
  const std::string unit = scale.units.empty() ? "" : " " + scale.units.front();
  if (scale.minimum && scale.maximum) {
    return "enter " + format_number(*scale.minimum) + " to " + format_number(*scale.maximum) + unit;
  }
  if (scale.minimum) return "enter " + format_number(*scale.minimum) + unit + " or more";
  return "enter a number" + unit;
}

// Bounds are stated in the scale's first unit; a value in another one is compared there.
Result<double> in_first_unit(const Scale& scale, double value, const std::string& unit) {
  if (scale.units.empty() || unit == scale.units.front()) return value;
  if (scale.kind == ScaleKind::kLength) {
    const auto given = length_in(value, unit);
    const auto one = length_in(1.0, scale.units.front());
    if (!given) return std::unexpected(given.error());
    return given->value() / one->value();
  }
  const auto given = mass_in(value, unit);
  const auto one = mass_in(1.0, scale.units.front());
  if (!given) return std::unexpected(given.error());
  return given->value() / one->value();
}

bool on_grid(double value, double step) {
  const double steps = value / step;
  return std::abs(steps - std::round(steps)) < 1e-9 * std::max(1.0, std::abs(steps));
}

Result<EnteredValue> read_amount(const Scale& scale, std::string_view text, std::string unit) {
  const auto value = parse_number(text);
  if (!value) return std::unexpected(value.error());
  const auto compared = in_first_unit(scale, *value, unit);
  if (!compared) return std::unexpected(compared.error());
  if ((scale.minimum && *compared < *scale.minimum) ||
      (scale.maximum && *compared > *scale.maximum)) {
    return refuse(scale, text, range_of(scale));
  }
  if (scale.kind == ScaleKind::kPercent && !on_grid(*value, scale.fine_step)) {
    return refuse(scale, text, "enter steps of " + format_number(scale.fine_step));
  }
  return EnteredValue{std::string(text), std::move(unit), *value};
}

Result<EnteredValue> read_step(const Scale& scale, std::string_view text, std::string unit) {
  const auto step = std::ranges::find(scale.steps, text, &ScaleStep::code);
  if (step == scale.steps.end()) {
    return refuse(
        scale, text,
        "choose one of its steps, " + scale.steps.front().code + " to " + scale.steps.back().code);
  }
  return EnteredValue{std::string(text), std::move(unit), step->value};
}

Result<EnteredValue> read_composite(const Scale& scale, std::string_view text, std::string unit) {
  const auto numbers = composite_numbers(scale, text);
  if (!numbers) return std::unexpected(numbers.error());
  return EnteredValue{std::string(text), std::move(unit), composite_value(scale, *numbers)};
}

bool says_reached_or_not(const Scale& scale) {
  return scale.steps.size() == 2 && scale.steps[0].code == kNotYetCode &&
         scale.steps[0].value == 0 && scale.steps[1].code == kReachedCode &&
         scale.steps[1].value == 1;
}

// Bounds are compared by converting units, so each must be one that can be converted.
void unit_faults(const Scale& scale, std::vector<Error>& faults) {
  const auto note = [&](std::string what, std::string mend) {
    faults.push_back(
        {ErrorKind::kInvalid, std::move(what), "scale " + scale.code, std::move(mend)});
  };
  for (const std::string& unit : scale.units) {
    if (scale.kind == ScaleKind::kMass) {
      if (const auto mass = mass_in(1.0, unit); !mass) note(mass.error().what, mass.error().mend);
    } else if (scale.kind == ScaleKind::kLength) {
      if (const auto length = length_in(1.0, unit); !length)
        note(length.error().what, length.error().mend);
    }
  }
  if (scale.kind == ScaleKind::kPercent && scale.units.size() > 1)
    note("a percent has one unit", "keep %");
}

}  // namespace

Result<EnteredValue> read_entered(const Scale& scale, std::string_view text,
                                  std::string_view unit) {
  std::string chosen(unit);
  if (chosen.empty() && !scale.units.empty()) chosen = scale.units.front();
  if (!chosen.empty() && std::ranges::find(scale.units, chosen) == scale.units.end()) {
    return refuse(scale, chosen, "use a unit of this scale");
  }
  if (text.empty())
    return fail(ErrorKind::kInvalid, "nothing was entered on scale " + scale.code, {},
                "enter a value");
  switch (scale.kind) {
    case ScaleKind::kText:
      return EnteredValue{std::string(text), std::move(chosen), std::nullopt};
    case ScaleKind::kLabel:
      if (!is_code(text))
        return refuse(scale, text, "use letters, digits, point, hyphen, up to 32");
      return EnteredValue{std::string(text), std::move(chosen), std::nullopt};
    case ScaleKind::kScore:
    case ScaleKind::kStages:
    case ScaleKind::kReached:
      return read_step(scale, text, std::move(chosen));
    case ScaleKind::kShares:
    case ScaleKind::kCounts:
    case ScaleKind::kCells:
      return read_composite(scale, text, std::move(chosen));
    case ScaleKind::kPercent:
    case ScaleKind::kLength:
    case ScaleKind::kMass:
      break;
  }
  return read_amount(scale, text, std::move(chosen));
}

std::vector<Error> scale_faults(const Scale& scale) {
  std::vector<Error> faults;
  const auto fault = [&](const char* what, const char* mend) {
    faults.push_back({ErrorKind::kInvalid, what, "scale " + scale.code, mend});
  };
  const bool stepped = scale.kind == ScaleKind::kScore || scale.kind == ScaleKind::kStages ||
                       scale.kind == ScaleKind::kShares || scale.kind == ScaleKind::kCounts ||
                       scale.kind == ScaleKind::kReached;
  const bool amount = scale.kind == ScaleKind::kPercent || scale.kind == ScaleKind::kLength ||
                      scale.kind == ScaleKind::kMass;
  if (!is_code(scale.code)) fault("the code is not usable", "use letters, digits, underscore");
  if (scale.source.empty())
    fault("no source is named", "name it, or write 'common practice, no source'");
  if (scale.definition.empty())
    fault("the definition is missing", "say in one sentence what is judged");
  // A label may name the parts that it numbers.
  const bool may = scale.kind == ScaleKind::kLabel;
  if (!may && stepped != !scale.steps.empty())
    fault("steps belong to scores and stages, and those need them", "mend the steps");
  for (std::size_t i = 0; i < scale.steps.size(); ++i) {
    if (!is_code(scale.steps[i].code))
      fault("a step's code is not usable", "use letters and digits");
    if (i > 0 && !(scale.steps[i - 1].value < scale.steps[i].value))
      fault("steps do not ascend", "order them by value");
    for (std::size_t j = 0; j < i; ++j) {
      if (scale.steps[j].code == scale.steps[i].code)
        fault("two steps share a code", "give each its own");
    }
  }
  unit_faults(scale, faults);
  if (amount && scale.units.empty()) fault("an amount needs a unit", "name at least one");
  if (amount && !scale.minimum) fault("an amount needs a lower end", "state the minimum");
  if (scale.minimum && scale.maximum && !(*scale.minimum < *scale.maximum))
    fault("the ends are out of order", "minimum below maximum");
  if (scale.readings < 1 || scale.readings > kMostReadings)
    fault("readings of one act are 1 to 20", "state how many");
  const bool repeats = scale.kind == ScaleKind::kLength || scale.kind == ScaleKind::kCells;
  if (scale.readings > 1 && !repeats)
    fault("only lengths and frames are read several times", "leave readings out");
  if (scale.kind == ScaleKind::kCells && !(scale.maximum.value_or(0) >= 1))
    fault("a frame needs its number of cells", "state them as the maximum");
  if (scale.kind == ScaleKind::kReached && !says_reached_or_not(scale))
    fault("a stage is reached or not", "give two steps, not_yet 0 and reached 1");
  if (!(scale.step > 0) || !(scale.fine_step > 0))
    fault("a step must be above zero", "state step and fine step");
  return faults;
}

const Scale* Definitions::scale(std::string_view code) const {
  const auto at = std::ranges::find(scales, code, &Scale::code);
  return at == scales.end() ? nullptr : &*at;
}

const Measure* Definitions::measure(std::string_view code) const {
  const auto at = std::ranges::find(measures, code, &Measure::code);
  return at == measures.end() ? nullptr : &*at;
}

const Species* Definitions::find_species(std::string_view code) const {
  const auto at = std::ranges::find(species, code, &Species::code);
  return at == species.end() ? nullptr : &*at;
}

const Scale* Definitions::scale_for(std::string_view measure_code,
                                    std::string_view species_code) const {
  const Measure* found = measure(measure_code);
  if (found == nullptr) return nullptr;
  const Species* kind = find_species(species_code);
  const std::string group = kind == nullptr ? std::string() : kind->group;
  const auto own = std::ranges::find(found->scales, group, &MeasureScale::species_group);
  if (own != found->scales.end()) return scale(own->scale);
  const auto any = std::ranges::find(found->scales, std::string(), &MeasureScale::species_group);
  return any == found->scales.end() ? nullptr : scale(any->scale);
}

const Limit* Definitions::limit_for(std::string_view measure_code,
                                    std::string_view species_code) const {
  const Species* const kind = find_species(species_code);
  const Limit* of_group = nullptr;
  const Limit* of_all = nullptr;
  for (const Limit& limit : limits) {
    if (limit.measure != measure_code) continue;
    if (!limit.species.empty()) {
      if (limit.species == species_code) return &limit;
    } else if (limit.group.empty()) {
      of_all = &limit;
    } else if (kind != nullptr && limit.group == kind->group) {
      of_group = &limit;
    }
  }
  return of_group != nullptr ? of_group : of_all;
}

}  // namespace ligule
