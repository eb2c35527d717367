// A value to be judged by the rules, and how the tests of rules read what came of it.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "storage/checks/rules.h"
#include "storage/trial/unit_names.h"

namespace ligule::checks {

inline constexpr CalendarDate kSown = date::year{2024} / date::month{9} / date::day{10};
inline constexpr CalendarDate kToday = date::year{2026} / date::month{5} / date::day{4};

inline Scale scale_of(ScaleKind kind, std::vector<std::string> units) {
  Scale scale;
  scale.code = "a_scale";
  scale.kind = kind;
  scale.units = std::move(units);
  scale.minimum = 0.0;
  return scale;
}

// A value to be judged, with what is known beside it.
struct Case {
  Scale scale;
  Candidate candidate;
  Plan plan;
  History history;

  Case(std::string_view measure, Scale its_scale, std::string_view entered,
       std::string_view unit = "")
      : scale(std::move(its_scale)) {
    candidate.measure = measure;
    candidate.entered = entered;
    candidate.unit = unit;
    plan.sown = kSown;
    history.today = kToday;
  }
  [[nodiscard]] Verdict verdict() {
    candidate.scale = &scale;
    return judge(candidate, plan, history);
  }
};

inline std::string codes(const Verdict& verdict) {
  std::string all;
  for (const Finding& finding : verdict.findings) {
    if (!all.empty()) all += ' ';
    all += finding.rule->code;
  }
  return all;
}

inline Case percent(std::string_view entered) {
  Scale scale = scale_of(ScaleKind::kPercent, {"%"});
  scale.maximum = 100;
  return {"percent_stand", scale, entered};
}
inline Case grams(std::string_view measure, std::string_view entered) {
  return {measure, scale_of(ScaleKind::kMass, {"g", "lb"}), entered};
}
inline Kilograms in_grams(double value) {
  return *mass_in(value, "g");
}

}  // namespace ligule::checks
