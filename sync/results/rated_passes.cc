#include "sync/results/rated_passes.h"

#include <algorithm>
#include <tuple>
#include <utility>

#include "sync/results/settled.h"

namespace ligule::results {
namespace {

// A correction is of the day it was made, so that one value does not say when a pass was.
CalendarDate commonest_day(const std::map<std::string, CalendarDate>& days) {
  std::map<CalendarDate, std::size_t> counts;
  for (const auto& [plot, day] : days) ++counts[day];
  return std::ranges::max_element(counts, {}, [](const auto& of) { return of.second; })->first;
}

const PlanOccasion* occasion_by_code(const Plan& plan, const std::string& code) {
  const auto found = std::ranges::find(plan.occasions, code, &PlanOccasion::code);
  return found == plan.occasions.end() ? nullptr : &*found;
}

}  // namespace

CalendarDate RatedPass::first_day() const {
  return std::ranges::min_element(days, {}, [](const auto& of) { return of.second; })->second;
}

CalendarDate RatedPass::last_day() const {
  return std::ranges::max_element(days, {}, [](const auto& of) { return of.second; })->second;
}

std::vector<RatedPass> rated_passes(const TrialFacts& trial, const MeasureValues& measure) {
  const SettledValues settled(trial.claims);
  std::map<std::string, RatedPass> by_code;
  for (const PlotValue& value : measure.values) {
    const PlanOccasion* const occasion = occasion_by_code(trial.plan, value.cutting);
    const PlanPlot* const plot = trial.plan.find_plot(value.plot);
    if (occasion == nullptr || plot == nullptr) continue;
    RatedPass& pass = by_code[value.cutting];
    pass.occasion = occasion;
    pass.values.push_back(value);
    if (!value.value) continue;
    const auto parts =
        settled.parts(trial.plan.plot(*plot).uuid, measure.measure, trial.plan.occasion(*occasion));
    if (!parts.empty()) pass.days.emplace(value.plot, parts.front().date);
  }
  std::vector<RatedPass> passes;
  for (auto& [code, pass] : by_code) {
    if (pass.days.empty()) continue;
    pass.on = commonest_day(pass.days);
    passes.push_back(std::move(pass));
  }
  std::ranges::stable_sort(passes, {}, &RatedPass::on);
  return passes;
}

Analysis analysis_of_pass(std::span<const PlotValue> values, AnalysisOptions options, Best best) {
  options.totals = false;
  options.best = best;
  std::vector<Analysis> analyses = analyse(values, options);
  return analyses.empty() ? Analysis{} : std::move(analyses.front());
}

}  // namespace ligule::results
