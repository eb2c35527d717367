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

// The cutting that the plan has as the first of a year, where it was weighed: where it was not, the
// second one is no first.
std::map<int, const PassDays*> first_cuttings(const Plan& plan, std::span<const PassDays> passes) {
  std::map<int, int> planned;
  for (const PlanOccasion& occasion : plan.occasions) {
    if (occasion.job != Job::kHarvest) continue;
    const auto [number, fresh] = planned.try_emplace(occasion.year, occasion.cutting);
    if (!fresh) number->second = std::min(number->second, occasion.cutting);
  }
  std::map<int, const PassDays*> first;
  for (const PassDays& pass : passes) {
    const auto number = planned.find(pass.year);
    const bool is_first = number != planned.end() && pass.cutting == number->second;
    if (pass.job == Job::kHarvest && is_first) first[pass.year] = &pass;
  }
  return first;
}

struct SeenStages {
  std::map<double, std::pair<std::string, std::size_t>>
      plots;  // by place on the scale: name, count
  std::size_t count = 0;
  CalendarDate first{}, last{};  // when they were judged

  void add(const ScaleStep& step, CalendarDate day) {
    auto& [name, times] = plots[step.value];
    name = step.name.empty() ? step.code : step.name;
    ++times;
    first = count == 0 ? day : std::min(first, day);
    last = count == 0 ? day : std::max(last, day);
    ++count;
  }
};

// A rating may take weeks: each plot counts by its own day.
bool is_near(CalendarDate day, const PassDays& cutting) {
  return day <= cutting.last &&
         date::sys_days(cutting.first) - date::sys_days(day) <= date::days(kDaysBefore);
}

const ScaleStep* step_of(const TrialFacts& trial, const Settled& part) {
  const auto scale = trial.scales.find(part.definition);
  if (part.standing != Standing::kValue || scale == trial.scales.end()) return nullptr;
  const auto step = std::ranges::find(scale->second.steps, part.entered, &ScaleStep::code);
  return step == scale->second.steps.end() ? nullptr : &*step;
}

// What was judged near the cutting, of plots that are in the results.
SeenStages stages_at(const TrialFacts& trial, const SettledValues& settled, const PassDays& pass,
                     const PassDays& cutting) {
  SeenStages seen;
  const auto planned = std::ranges::find(trial.plan.occasions, pass.code, &PlanOccasion::code);
  if (planned == trial.plan.occasions.end()) return seen;
  const OccasionId occasion = trial.plan.occasion(*planned);
  for (const PlanPlot& plot : trial.plan.plots) {
    const auto parts = settled.parts(trial.plan.plot(plot).uuid, kMaturity, occasion);
    const auto part = std::ranges::find_if(parts, [&](const Settled& each) {
      return is_near(each.date, cutting) && step_of(trial, each) != nullptr;
    });
    if (part == parts.end() || held_on(trial, plot, part->date).entry == nullptr) continue;
    seen.add(*step_of(trial, *part), part->date);
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
  for (const auto& [year, cutting] : first_cuttings(trial.plan, passes)) {
    // By day: the last that is not too late is the nearest.
    SeenStages seen;
    for (const PassDays& pass : passes) {
      if (pass.job != Job::kRate || pass.year != year) continue;
      SeenStages there = stages_at(trial, settled, pass, *cutting);
      if (there.count > 0) seen = std::move(there);
    }
    if (seen.count == 0) continue;
    all += fmt::format("{}{}: {}, {}", all.empty() ? "" : "; ", year, told(seen),
                       days_and_month(seen.first, seen.last));
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
