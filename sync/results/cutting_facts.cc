#include "sync/results/cutting_facts.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <utility>
#include <vector>

#include "storage/trial/details.h"
#include "storage/trial/number.h"
#include "storage/trial/rated_before.h"
#include "sync/results/labels.h"
#include "sync/results/settled.h"

namespace ligule::results {
namespace {

// Common practice, no source: a week on, grasses are another stage.
constexpr int kDaysBefore = 7;

// The first cutting of each year.
std::map<int, const PassDays*> first_cuttings(std::span<const PassDays> passes) {
  std::map<int, const PassDays*> first;
  for (const PassDays& pass : passes) {
    if (pass.job != Job::kHarvest) continue;
    const PassDays*& of_year = first[pass.year];
    if (of_year == nullptr || pass.cutting < of_year->cutting) of_year = &pass;
  }
  return first;
}

struct SeenStages {
  std::map<double, std::pair<std::string, std::size_t>>
      plots;  // by place on the scale: name, count
  std::size_t count = 0;
};

SeenStages stages_at(const TrialFacts& trial, const SettledValues& settled, const PassDays& pass) {
  SeenStages seen;
  const auto planned = std::ranges::find(trial.plan.occasions, pass.code, &PlanOccasion::code);
  if (planned == trial.plan.occasions.end()) return seen;
  for (const PlanPlot& plot : trial.plan.plots) {
    for (const Settled& part :
         settled.parts(trial.plan.plot(plot).uuid, kMaturity, trial.plan.occasion(*planned))) {
      const auto scale = trial.scales.find(part.definition);
      if (part.standing != Standing::kValue || scale == trial.scales.end()) continue;
      const auto step = std::ranges::find(scale->second.steps, part.entered, &ScaleStep::code);
      if (step == scale->second.steps.end()) continue;
      auto& [name, count] = seen.plots[step->value];
      name = step->name.empty() ? step->code : step->name;
      ++count;
      ++seen.count;
    }
  }
  return seen;
}

std::string told(const SeenStages& seen) {
  const std::string& first = seen.plots.begin()->second.first;
  if (seen.plots.size() == 1) return first;
  const auto most = std::ranges::max_element(seen.plots, {},
                                             [](const auto& stage) { return stage.second.second; });
  return fmt::format("{} to {}, mostly {} ({} of {})", first, seen.plots.rbegin()->second.first,
                     most->second.first, most->second.second, count_of(seen.count, "plot"));
}

}  // namespace

std::string stubble_told(const TrialFacts& trial) {
  std::vector<std::string> heights;
  for (const Record& run : trial.runs) {
    const std::string height = detail(run.details, "stubble");
    if (!height.empty() && std::ranges::find(heights, height) == heights.end())
      heights.push_back(height);
  }
  std::string told;
  for (const std::string& height : heights) told += (told.empty() ? "" : ", ") + height;
  return told;
}

std::string stage_at_first_cutting_told(const TrialFacts& trial, std::span<const PassDays> passes) {
  const SettledValues settled(trial.claims);
  std::string all;
  for (const auto& [year, cutting] : first_cuttings(passes)) {
    // By day: the last that is not too late is the nearest.
    const PassDays* nearest = nullptr;
    SeenStages seen;
    for (const PassDays& pass : passes) {
      const bool near =
          pass.first <= cutting->last &&
          date::sys_days(cutting->first) - date::sys_days(pass.last) <= date::days(kDaysBefore);
      if (pass.job != Job::kRate || pass.year != year || !near) continue;
      SeenStages there = stages_at(trial, settled, pass);
      if (there.count == 0) continue;
      nearest = &pass;
      seen = std::move(there);
    }
    if (nearest == nullptr) continue;
    all += fmt::format("{}{}: {}, {}", all.empty() ? "" : "; ", year, told(seen),
                       days_and_month(nearest->first, nearest->last));
  }
  return all;
}

std::string sowing_rate_told(const Plan& plan) {
  std::map<std::string, std::pair<double, double>> ranges;  // by unit: lowest, highest
  std::size_t entries = 0, stated = 0;
  for (const PlanEntry& entry : plan.entries) {
    if (entry.role == EntryRole::kFiller) continue;
    ++entries;
    const auto rate = parse_number(entry.sowing_rate);
    if (!rate) continue;
    ++stated;
    const auto [range, first] = ranges.try_emplace(entry.sowing_rate_unit, *rate, *rate);
    if (first) continue;
    range->second.first = std::min(range->second.first, *rate);
    range->second.second = std::max(range->second.second, *rate);
  }
  std::string told;
  bool apart = ranges.size() > 1;
  for (const auto& [unit, range] : ranges) {
    const auto& [low, high] = range;
    if (!told.empty()) told += ", ";
    told += format_number(low);
    if (high > low) told += " to " + format_number(high);
    told += " " + unit;
    apart = apart || high > low;
  }
  if (told.empty()) return told;
  told += " of pure live seed";
  if (apart) told += ", by entry";
  if (stated < entries)
    told += " (stated of " + std::to_string(stated) + " of " +
            count_of(entries, "entry", "entries") + ")";
  return told;
}

}  // namespace ligule::results
