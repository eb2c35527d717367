#include "storage/checks/soil_verdict.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "storage/trial/number.h"
#include "storage/trial/soil_amount.h"

namespace ligule::checks {
namespace {

constexpr std::string_view kAnAcre = "lb/acre";

// What is shown is what is judged, so that 30 is never "below 30".
double to_the_tenth(double value) {
  return std::round(value * 10) / 10;
}

std::string amount(double value, const std::string& unit) {
  return unit.empty() ? format_number(value) : format_number(value) + " " + unit;
}

std::string enumerated(const std::vector<std::string>& names) {
  std::string all;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (i > 0) all += i + 1 == names.size() ? " and " : ", ";
    all += names[i];
  }
  return all;
}

std::string name_of_extractant(const SoilTest& test, const SoilTables& tables) {
  const SoilExtractant* const known = tables.extractant(test.extractant);
  return known == nullptr ? test.extractant : known->name;
}

// The rule a value came by to an acre.
std::string rule_told(const SoilTest& test) {
  if (test.unit == "kg/ha") return "kg/ha x 0.892";
  const auto inches = sampled_inches(test);
  if (!inches) return "ppm x 2, a furrow slice of 6 to 7 in; depth not stated";
  if (is_furrow_slice(inches)) return "ppm x 2, a furrow slice of 6 to 7 in";
  return "ppm x " + format_number(std::round(pounds_for_a_ppm(inches) * 100) / 100) + " in " +
         test.depth + " " + test.depth_unit + ", 2 for each 6 in";
}

// On an acre, in the unit of a table; empty where units do not go into one another.
std::optional<double> on_an_acre(const SoilTest& test, std::string_view unit) {
  const auto number = parse_number(test.value);
  if (!number) return std::nullopt;
  const auto converted = in_soil_unit(*number, test.unit, unit, sampled_inches(test));
  return converted ? std::optional(to_the_tenth(*converted)) : std::nullopt;
}

// Which table judges, with what; species may share it.
struct Judged {
  std::string text;
  SoilSaid said = {};
  bool by_species = true;

  bool operator==(const Judged&) const = default;
};

Judged no_verdict(const std::string& why, std::string key, bool by_species = true) {
  return {"no verdict: " + why, {SoilStanding::kNoVerdict, {{std::move(key)}}}, by_species};
}

// One value before the tables.
class SoilJudge {
 public:
  SoilJudge(const SoilTest& test, const SoilTables& tables) : test_(test), tables_(tables) {
    if (const SoilExtractant* const known = tables.extractant(test.extractant))
      extractant_ = known->code;
    const SoilProperty* const property = tables.property(test.property);
    has_unit_ = property != nullptr && (property->units.empty() || !test.unit.empty());
  }

  [[nodiscard]] Judged judge(const Species& species) const {
    if (has(tables_.ranges)) return by_range(species);
    const bool classes = has(tables_.classes);
    if (!classes && !has(tables_.checks))
      return no_verdict("no published table of it is held here", "soil.no_table", false);
    if (!is_furrow_slice(sampled_inches(test_)))
      return no_verdict("tables hold for a furrow slice of 6 to 7 in, and this is of " +
                            test_.depth + " " + test_.depth_unit,
                        "soil.other_layer", false);
    if (classes && has_unit_) {
      if (const auto judged = by_classes()) return *judged;
    }
    return by_check(species);
  }

 private:
  template <class Table>
  [[nodiscard]] bool has(const std::vector<Table>& tables) const {
    return std::ranges::find(tables, test_.property, &Table::property) != tables.end();
  }
  // Ranges and checks hold for those they name, and where nobody says by what it was tested.
  [[nodiscard]] bool holds(const std::vector<std::string>& extractants) const {
    return test_.extractant.empty() ||
           std::ranges::find(extractants, extractant_) != extractants.end();
  }
  [[nodiscard]] std::string extractant_told() const { return name_of_extractant(test_, tables_); }
  [[nodiscard]] Judged by_range(const Species& species) const;
  [[nodiscard]] std::optional<Judged> by_classes() const;
  [[nodiscard]] Judged by_check(const Species& species) const;
  [[nodiscard]] Judged without_table() const;

  const SoilTest& test_;
  const SoilTables& tables_;
  std::string extractant_;
  bool has_unit_ = false;
};

Judged SoilJudge::by_range(const Species& species) const {
  const auto range = std::ranges::find_if(tables_.ranges, [&](const SoilRange& each) {
    return each.property == test_.property &&
           std::ranges::find(each.species, species.code) != each.species.end();
  });
  if (range == tables_.ranges.end())
    return no_verdict("no published range is held here", "soil.no_range");
  if (!holds(range->extractants))
    return no_verdict("no range of it by " + extractant_told() + " is held here", "soil.no_range");
  const auto value = parse_number(test_.value);
  if (!value) return no_verdict("the value is no number", "soil.no_number");
  const std::string from = format_fixed(range->from, 1);
  const std::string to = format_fixed(range->to, 1);
  const auto judged = [&](SoilStanding standing, const char* side, const char* key) {
    return Judged{side + from + " to " + to + " (" + range->source + ")",
                  {standing, {{key, {from, to}}}, range->source}};
  };
  if (*value < range->from) return judged(SoilStanding::kBelow, "below ", "soil.range_below");
  if (*value > range->to) return judged(SoilStanding::kAbove, "above ", "soil.range_above");
  return judged(SoilStanding::kGood, "within ", "soil.range_within");
}

std::optional<Judged> SoilJudge::by_classes() const {
  const auto table = std::ranges::find_if(tables_.classes, [&](const SoilClasses& each) {
    return each.property == test_.property && !extractant_.empty() &&
           each.extractant == extractant_;
  });
  if (table == tables_.classes.end()) return std::nullopt;
  const auto value = on_an_acre(test_, table->unit);
  if (!value) return std::nullopt;
  const auto above = std::ranges::upper_bound(table->classes, *value, {}, &SoilClass::from);
  if (above == table->classes.begin()) return std::nullopt;  // below zero
  const auto its = std::prev(above);
  const auto best = std::ranges::find(table->classes, table->optimum, &SoilClass::name);
  const auto judged = [&](SoilStanding standing, const char* side, const char* key) {
    return Judged{its->name + side + " (classes by " + extractant_told() + " in " + table->unit +
                      ": " + table->source + ")",
                  {standing, {{"soil.class." + soil_class_code(its->name)}, {key}}, table->source},
                  false};
  };
  if (its < best) return judged(SoilStanding::kBelow, ", below its optimum", "soil.optimum_below");
  if (its > best) return judged(SoilStanding::kAbove, ", above its optimum", "soil.optimum_above");
  return judged(SoilStanding::kGood, ", its optimum", "soil.optimum");
}

Judged SoilJudge::by_check(const Species& species) const {
  const auto check = std::ranges::find_if(tables_.checks, [&](const SoilCheck& each) {
    return each.property == test_.property && each.group == species.group &&
           holds(each.extractants);
  });
  if (check == tables_.checks.end()) return without_table();
  const auto value = has_unit_ ? on_an_acre(test_, check->unit) : [&]() -> std::optional<double> {
    const auto number = parse_number(test_.value);
    return number ? std::optional(*number) : std::nullopt;
  }();
  if (!value) return without_table();
  const std::string target = amount(check->target, check->unit);
  std::string text = has_unit_ ? "" : "read as " + check->unit + ", which is assumed, ";
  SoilSaid said{SoilStanding::kBelow, {}, check->source};
  if (*value < check->minimum) {
    const std::string minimum = amount(check->minimum, check->unit);
    text += "below the minimum of " + minimum + " for " + check->stand + ", target " +
            format_number(check->target);
    said.pieces.push_back({"soil.minimum_below", {minimum, target}});
  } else if (*value < check->target) {
    text += "at or above the minimum of " + format_number(check->minimum) +
            ", below the target of " + target + " for " + check->stand;
    said.pieces.push_back({"soil.target_below", {target}});
  } else {
    text += "at or above the target of " + target + " for " + check->stand;
    said.standing = SoilStanding::kGood;
    said.pieces.push_back({"soil.target_reached", {target}});
  }
  if (!has_unit_ || check->unit_assumed)
    said.pieces.push_back({"soil.unit_assumed", {check->unit}});
  text += " (" + check->source;
  if (check->unit_assumed) text += "; that its numbers are " + check->unit + " is assumed";
  return {text + ")", std::move(said)};
}

Judged SoilJudge::without_table() const {
  constexpr const char* kNoCheck = ", and no check value";
  if (!has_unit_)
    return no_verdict(std::string("its unit is not stated") + kNoCheck, "soil.no_unit");
  if (test_.extractant.empty())
    return no_verdict(std::string("its extractant is not stated") + kNoCheck, "soil.no_extractant");
  return no_verdict("no class table of it by " + extractant_told() + " is held here" + kNoCheck,
                    "soil.no_class");
}

// The verdicts of one value, species with the same one together.
void add_verdicts(const SoilVerdict& of, const SoilJudge& judge,
                  const std::vector<const Species*>& species, std::vector<SoilVerdict>& verdicts) {
  std::vector<std::pair<Judged, std::vector<std::string>>> together;
  for (const Species* const each : species) {
    Judged judged = judge.judge(*each);
    auto same =
        std::ranges::find_if(together, [&](const auto& one) { return one.first == judged; });
    if (same == together.end()) {
      together.emplace_back(std::move(judged), std::vector<std::string>());
      same = together.end() - 1;
    }
    same->second.push_back(each->name);
  }
  for (auto& [judged, names] : together) {
    SoilVerdict verdict = of;
    verdict.judged = std::move(judged.text);
    verdict.said = std::move(judged.said);
    if (judged.by_species) {
      verdict.species = enumerated(names);
      verdict.for_names = std::move(names);
    }
    verdicts.push_back(std::move(verdict));
  }
}

std::vector<const Species*> species_sown(const Plan& plan, const Definitions& definitions) {
  std::vector<const Species*> all;
  for (const PlanEntry& entry : plan.entries) {
    const Species* const species = definitions.find_species(entry.species);
    if (entry.role == EntryRole::kFiller || species == nullptr) continue;
    if (std::ranges::find(all, species) == all.end()) all.push_back(species);
  }
  return all;
}

bool is_looked_for(const SoilProperty& property, const SoilTables& tables) {
  const auto of_it = [&](const auto& table) { return table.property == property.code; };
  return std::ranges::any_of(tables.ranges, of_it) || std::ranges::any_of(tables.checks, of_it);
}

}  // namespace

std::string SoilVerdict::line() const {
  return found + ": " + (species.empty() ? judged : "for " + species + ", " + judged);
}

std::string soil_class_code(std::string_view name) {
  std::string code(name);
  std::ranges::replace(code, ' ', '_');
  return code;
}

std::optional<double> soil_pounds_an_acre(const SoilTest& test, const SoilTables& tables) {
  const SoilProperty* const property = tables.property(test.property);
  const bool amounts = property != nullptr && property->units.size() > 1;
  if (!amounts || test.unit.empty() || test.unit == kAnAcre) return std::nullopt;
  return on_an_acre(test, kAnAcre);
}

std::string soil_value_told(const SoilTest& test, const SoilTables& tables, bool conversion) {
  const SoilProperty* const property = tables.property(test.property);
  std::string told = (property == nullptr ? test.property : property->name) + " " + test.value;
  if (!test.unit.empty()) told += (test.unit == "%" ? "" : " ") + test.unit;
  std::string doubt;
  const bool amounts = property != nullptr && property->units.size() > 1;
  if (amounts && test.unit.empty()) doubt = "unit not stated, ";
  if (!test.extractant.empty())
    doubt += name_of_extractant(test, tables);
  else if (amounts)
    doubt += "extractant not stated";
  if (!doubt.empty()) told += " (" + doubt + ")";
  const auto value = conversion ? soil_pounds_an_acre(test, tables) : std::nullopt;
  if (!value) return told;
  return told + " = " + amount(*value, std::string(kAnAcre)) + " (" + rule_told(test) + ")";
}

std::vector<SoilVerdict> soil_verdicts(const Plan& plan, const SoilTables& tables,
                                       const Definitions& definitions) {
  std::vector<SoilVerdict> verdicts;
  if (plan.soil.empty()) return verdicts;
  const std::vector<const Species*> species = species_sown(plan, definitions);
  for (const SoilProperty& property : tables.properties) {
    std::optional<CalendarDate> newest;
    bool tested = false;
    for (const SoilTest& test : plan.soil) {
      if (test.property != property.code) continue;
      newest = tested ? std::max(newest, test.sampled) : test.sampled;
      tested = true;
    }
    for (std::size_t n = 0; n < plan.soil.size(); ++n) {
      const SoilTest& test = plan.soil[n];
      if (test.property != property.code || test.sampled != newest) continue;
      const SoilVerdict of{soil_value_told(test, tables, true), {}, {}, property.code, n};
      add_verdicts(of, SoilJudge(test, tables), species, verdicts);
    }
    if (!tested && is_looked_for(property, tables))
      verdicts.push_back({property.name, {}, "not in the soil test", property.code});
  }
  return verdicts;
}

}  // namespace ligule::checks
