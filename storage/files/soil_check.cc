#include "storage/files/soil_check.h"

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <tuple>
#include <utility>

#include "storage/trial/number.h"
#include "storage/trial/soil_amount.h"

namespace ligule::files {
namespace {

constexpr date::years kSoilTestAges{3};
// Inches that samples of a field are usually taken to (common practice, no source).
constexpr double kShallowSample = 2;
constexpr double kDeepSample = 12;

class SoilTestCheck {
 public:
  SoilTestCheck(const Plan& plan, const SoilTables& tables, const PlanPlaces& places)
      : plan_(plan), tables_(tables), places_(places) {}

  PlanFindings check() {
    for (at_ = 0; at_ < plan_.soil.size(); ++at_) {
      depth();
      day();
      const SoilProperty* const property = tables_.property(test().property);
      if (property == nullptr) {
        unknown();
        continue;
      }
      once(*property);
      if (unit(*property)) value(*property);
    }
    return std::move(found_);
  }

 private:
  [[nodiscard]] const SoilTest& test() const { return plan_.soil[at_]; }
  [[nodiscard]] std::string place_of(std::size_t i) const {
    return i < places_.soil.size() ? places_.soil[i] : "soil " + plan_.soil[i].property;
  }
  void fault(std::string what, std::string mend) {
    found_.faults.push_back({ErrorKind::kInvalid, std::move(what), place_of(at_), std::move(mend)});
  }
  void notice(std::string what, std::string mend) {
    found_.notices.push_back(
        {ErrorKind::kInvalid, std::move(what), place_of(at_), std::move(mend)});
  }

  void unknown();
  void depth();
  void day();
  void once(const SoilProperty& property);
  bool unit(const SoilProperty& property);
  void value(const SoilProperty& property);
  void unusual(const SoilProperty& property, double value);
  void mixed_up(const SoilProperty& property);
  [[nodiscard]] std::string told() const {
    return test().unit.empty() ? test().value : test().value + " " + test().unit;
  }

  const Plan& plan_;
  const SoilTables& tables_;
  const PlanPlaces& places_;
  std::size_t at_ = 0;  // the row that is looked at
  std::set<std::optional<CalendarDate>> days_;
  std::map<std::tuple<std::string, std::optional<CalendarDate>, std::optional<double>, std::string>,
           std::size_t>
      stated_;
  PlanFindings found_;
};

std::string listed(const std::vector<std::string>& words) {
  std::string all;
  for (const std::string& word : words) {
    if (!all.empty()) all += ", ";
    all += word;
  }
  return all;
}

void SoilTestCheck::unknown() {
  std::vector<std::string> codes;
  codes.reserve(tables_.properties.size());
  for (const SoilProperty& property : tables_.properties) codes.push_back(property.code);
  fault("soil property '" + test().property + "' is not known", "use " + listed(codes));
}

void SoilTestCheck::depth() {
  if (test().depth.empty()) return;
  if (const auto number = parse_number(test().depth); number && !(*number > 0))
    return fault("a depth of '" + test().depth + "' is not above zero",
                 "state how deep the samples were taken");
  if (test().depth_unit.empty()) return fault("the depth has no unit", "fill in depth_unit");
  const auto inches = sampled_inches(test());
  if (inches && (*inches < kShallowSample || *inches > kDeepSample))
    notice("a depth of " + test().depth + " " + test().depth_unit + " is unusual",
           "look whether in and cm were mixed up");
}

void SoilTestCheck::day() {
  const std::optional<CalendarDate>& sampled = test().sampled;
  if (!days_.insert(sampled).second || !plan_.sown.ok()) return;
  if (!sampled)
    return notice("when the soil was sampled is not stated", "state sampled: soil tests age");
  if (*sampled > plan_.sown)
    return notice("the soil was sampled on " + format_date(*sampled) + ", after sowing on " +
                      format_date(plan_.sown),
                  "what the stand began with is told by a test before sowing");
  // 29 February and three years is no day; comparing year, month, day does not need it to be one.
  if (*sampled + kSoilTestAges < plan_.sown)
    notice("the soil was sampled on " + format_date(*sampled) + ", more than 3 years before sowing",
           "have it tested again");
}

void SoilTestCheck::once(const SoilProperty& property) {
  const SoilExtractant* const known = tables_.extractant(test().extractant);
  const auto [first, is_new] =
      stated_.emplace(std::tuple(test().property, test().sampled, sampled_inches(test()),
                                 known == nullptr ? test().extractant : known->code),
                      at_);
  if (!is_new)
    fault(property.name + " stands twice for one day, depth and extractant",
          "first at " + place_of(first->second) + "; keep one of them");
}

// Whether the value can be looked at: it has a unit of the property's.
bool SoilTestCheck::unit(const SoilProperty& property) {
  if (property.units.empty()) {
    if (test().unit.empty()) return true;
    fault(property.name + " is a number without a unit", "leave 'unit' empty");
    return false;
  }
  if (test().unit.empty()) {
    notice("the unit of " + property.name + " is not stated",
           "copy it from the report: the same amount is twice as many lb/acre as ppm");
    return false;
  }
  if (std::ranges::find(property.units, test().unit) != property.units.end()) return true;
  fault("'" + test().unit + "' is no unit of " + property.name, "use " + listed(property.units));
  return false;
}

void SoilTestCheck::value(const SoilProperty& property) {
  const auto number = parse_number(test().value);
  if (!number) return;  // its column says so
  const double value =
      property.units.empty()
          ? *number
          : in_soil_unit(*number, test().unit, property.units.front(), sampled_inches(test()))
                .value_or(*number);
  if ((property.refuse_below && value < *property.refuse_below) ||
      (property.refuse_above && value > *property.refuse_above))
    return fault(property.name + " of " + told() + " cannot be",
                 "copy it anew from the report of the laboratory");
  unusual(property, value);
  const bool extracted = std::ranges::any_of(
      tables_.classes, [&](const SoilClasses& table) { return table.property == property.code; });
  if (extracted && test().extractant.empty())
    notice("the extractant of " + property.name + " is not stated",
           "copy it from the report: numbers of two extractants cannot be compared");
}

constexpr std::string_view kPpmOrPounds =
    "look whether the report says lb/acre: those are twice as many as ppm";

bool is_share(const SoilTest& test) {
  return test.unit == "ppm" || test.unit == "mg/kg";
}

// What was called by the wrong unit is off by a factor of 2, or a little more, the way its unit
// tells.
void SoilTestCheck::unusual(const SoilProperty& property, double value) {
  const char* const anew = "compare it with the report of the laboratory";
  if (property.ask_above && value > *property.ask_above)
    notice(property.name + " of " + told() + " is unusually high",
           is_share(test()) ? std::string(kPpmOrPounds) : anew);
  else
    mixed_up(property);
  if (!property.ask_below || value >= *property.ask_below) return;
  std::string mend = anew;
  if (test().unit == "lb/acre")
    mend = "look whether the report says ppm: those are half as many as lb/acre";
  if (test().unit == "kg/ha")
    mend = "look whether the report says ppm: those are less than half as many as kg/ha";
  notice(property.name + " of " + told() + " is unusually low", mend);
}

// What would be of the highest class as lb/acre already is likely to be lb/acre.
void SoilTestCheck::mixed_up(const SoilProperty& property) {
  const auto number = parse_number(test().value);
  // Much Ca or Mg is usual of limed and of heavy soils; P and K have values to reach.
  const bool has_checks = std::ranges::any_of(
      tables_.checks, [&](const SoilCheck& each) { return each.property == property.code; });
  if (!has_checks || !number) return;
  if (!is_share(test()) || !is_furrow_slice(sampled_inches(test()))) return;
  const SoilExtractant* const known = tables_.extractant(test().extractant);
  const auto table = std::ranges::find_if(tables_.classes, [&](const SoilClasses& each) {
    return each.property == property.code && each.unit == "lb/acre" &&
           (test().extractant.empty() || (known != nullptr && known->code == each.extractant));
  });
  if (table == tables_.classes.end()) return;
  const double highest = table->classes.back().from;
  if (*number < highest) return;
  const double pounds = *number * pounds_for_a_ppm(sampled_inches(test()));
  notice(property.name + " of " + told() + " comes to " + format_number(pounds) +
             " lb/acre, and the highest class begins at " + format_number(highest),
         std::string(kPpmOrPounds));
}

}  // namespace

PlanFindings check_soil(const Plan& plan, const SoilTables& tables, const PlanPlaces& places) {
  return SoilTestCheck(plan, tables, places).check();
}

}  // namespace ligule::files
