#include "sync/results/split_blocks.h"

#include <algorithm>
#include <map>
#include <set>

#include "storage/trial/details.h"

namespace ligule::results {
namespace {

struct Cut {
  std::set<CalendarDate> days;
  std::set<std::string> machines;
};

std::string and_list(const std::vector<std::string>& texts) {
  std::string all;
  for (std::size_t n = 0; n < texts.size(); ++n)
    all += (n == 0 ? "" : (n + 1 == texts.size() ? " and " : ", ")) + texts[n];
  return all;
}

}  // namespace

std::vector<SplitBlock> split_blocks(const TrialFacts& trial, const std::string& test) {
  std::map<RecordId, const Record*> runs;
  for (const Record& run : trial.runs) runs[run.id] = &run;
  // Year, cutting, block: in this order they are named.
  std::map<std::tuple<int, int, int>, Cut> cuts;
  for (const ledger::Claim& claim : trial.claims) {
    const Record& record = claim.record;
    if (record.measure != measure::kGrossWeight || !record.run || !record.occasion ||
        !record.subject || record.purpose != Purpose::kSurvey || record.state != ValueState::kValue)
      continue;
    const auto run = runs.find(*record.run);
    const PlanOccasion* const cutting = trial.plan.find_occasion(*record.occasion);
    const PlanPlot* const plot = trial.plan.find_plot(PlotId{*record.subject});
    if (run == runs.end() || cutting == nullptr || plot == nullptr) continue;
    Cut& cut = cuts[{cutting->year, cutting->cutting, plot->block}];
    cut.days.insert(run->second->at.local_date);
    if (std::string machine = detail(run->second->details, "machine"); !machine.empty())
      cut.machines.insert(std::move(machine));
  }
  std::vector<SplitBlock> split;
  for (const auto& [where, cut] : cuts) {
    if (cut.days.size() < 2 && cut.machines.size() < 2) continue;
    const auto& [year, cutting, block] = where;
    split.push_back({test,
                     year,
                     cutting,
                     block,
                     {cut.days.begin(), cut.days.end()},
                     {cut.machines.begin(), cut.machines.end()}});
  }
  return split;
}

std::vector<Footing> split_footings(const std::vector<SplitBlock>& splits) {
  std::vector<Footing> footings;
  for (const SplitBlock& split : splits)
    footings.push_back({split.test, split.year, split.cutting, split_text(split) + "."});
  return footings;
}

std::string split_text(const SplitBlock& split) {
  std::string text = "block " + std::to_string(split.block) + " was cut";
  std::vector<std::string> days;
  for (const CalendarDate day : split.days) days.push_back(format_date(day));
  if (days.size() > 1) text += " on " + and_list(days);
  if (split.machines.size() > 1)
    text += std::string(days.size() > 1 ? "," : "") + " with " + and_list(split.machines);
  return text;
}

}  // namespace ligule::results
