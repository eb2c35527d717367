#include "sync/results/dry_matter_notes.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include "storage/trial/details.h"
#include "storage/trial/sample_bag.h"

namespace ligule::results {
namespace {

std::string listed(const std::vector<std::string>& texts) {
  std::string all;
  for (const std::string& text : texts) all += (all.empty() ? "" : ", ") + text;
  return all;
}

std::string counted(std::size_t count, const std::string& one, const std::string& more) {
  return std::to_string(count) + " " + (count == 1 ? one : more);
}

// The plots of one cutting by where their fraction is from.
struct CuttingNotes {
  std::string test;
  int year = 0;
  int cutting = 0;
  std::map<FractionFrom, std::vector<std::string>> plots;
  // By what they rest on: a number goes round, so that two bags of a cutting may bear the same.
  std::set<std::vector<RecordId>> composites;
};

// In the order of `plots`.
std::vector<CuttingNotes> cuttings_of(const std::vector<PlotYield>& plots) {
  std::vector<CuttingNotes> cuttings;
  for (const PlotYield& plot : plots) {
    if (cuttings.empty() || cuttings.back().test != plot.test ||
        cuttings.back().year != plot.year || cuttings.back().cutting != plot.cutting)
      cuttings.push_back({plot.test, plot.year, plot.cutting, {}, {}});
    // One without a fraction stands among those without a yield.
    if (plot.entry.empty() || !plot.dry_matter.fraction) continue;
    CuttingNotes& cutting = cuttings.back();
    cutting.plots[plot.dry_matter.from].push_back(plot.plot);
    if (plot.dry_matter.from == FractionFrom::kComposite)
      cutting.composites.insert(plot.dry_matter.records);
  }
  return cuttings;
}

// "own sample" is told as a count, everything else with the plots' numbers.
std::string used_text(FractionFrom from, const std::vector<std::string>& plots) {
  const std::size_t count = plots.size();
  const std::string all = counted(count, "plot", "plots");
  const std::string numbers = " (" + listed(plots) + ")";
  switch (from) {
    case FractionFrom::kOwnSample:
      return all + (count == 1 ? " by its own sample" : " by their own samples");
    case FractionFrom::kComposite:
      return all + " by a composite sample" + numbers;
    case FractionFrom::kEntryMean:
      return all + " by the mean of the entry's samples of that day" + numbers;
    case FractionFrom::kTrialMean:
      return all + " by the mean of the trial's samples of that day" + numbers;
    case FractionFrom::kNone:
      break;
  }
  return all + " without a sample" + numbers;
}

std::string tare_text(const Plan& plan) {
  if (plan.bag_tare == StatedMass{}) return {};
  const std::string tare = "Bag tare " + plan.bag_tare.text + " " + plan.bag_tare.unit;
  switch (plan.bag_tare_weighed) {
    case BagWeighed::kOvenDry:
      return tare + ", weighed oven-dry.";
    case BagWeighed::kAirDry:
      return tare + ", weighed air-dry.";
    case BagWeighed::kWet:
      return tare + ", weighed wet.";
    case BagWeighed::kNotStated:
      break;
  }
  return tare + "; whether weighed wet or oven-dry is not stated.";
}

// "at 60 °C for 48 hours"; empty: nothing was stated.
std::string oven_text(const Record& dried) {
  const std::string celsius = detail(dried.details, std::string(sample_bag::kOvenCelsius));
  const std::string hours = detail(dried.details, std::string(sample_bag::kOvenHours));
  std::string text;
  if (!celsius.empty()) text = "at " + celsius + " \u00B0C";
  if (!hours.empty()) text += (text.empty() ? "for " : " for ") + hours + " hours";
  return text;
}

// How a cutting's bags were dried, each way once; one test should have one (common practice, no
// source: a cooler oven leaves a little water).
std::string dried_text(const TrialFacts& trial, OccasionId cutting) {
  std::map<std::string, std::size_t> ways;
  for (const ledger::Claim& claim : trial.claims) {
    const Record& record = claim.record;
    if (record.measure == measure::kSampleDry && record.occasion == cutting &&
        record.purpose == Purpose::kSurvey && record.state == ValueState::kValue)
      ++ways[oven_text(record)];
  }
  if (ways.empty() || (ways.size() == 1 && ways.begin()->first.empty())) return {};
  std::string text;
  for (const auto& [way, bags] : ways) {
    text += text.empty() ? "Dried " : "; ";
    text += way.empty() ? std::string("in a way that is not stated") : way;
    if (ways.size() > 1) text += ": " + counted(bags, "bag", "bags");
  }
  return text + ".";
}

}  // namespace

std::vector<Footing> sampling_footings(const TrialFacts& trial, const std::string& test,
                                       const std::vector<PlotYield>& plots) {
  std::vector<Footing> footings;
  for (const CuttingNotes& cutting : cuttings_of(plots)) {
    if (cutting.test != test || cutting.plots.empty()) continue;
    for (const PlanOccasion& planned : trial.plan.occasions) {
      if (planned.job != Job::kHarvest || planned.year != cutting.year ||
          planned.cutting != cutting.cutting)
        continue;
      std::vector<std::string> texts;
      if (planned.sample_of != SampleOf::kPlot)
        texts.push_back("Samples were taken by " + std::string(name_of(planned.sample_of)) + ".");
      texts.push_back(tare_text(trial.plan));
      texts.push_back(dried_text(trial, trial.plan.occasion(planned)));
      std::string text;
      for (const std::string& each : texts) {
        if (!each.empty()) text += (text.empty() ? "" : " ") + each;
      }
      if (!text.empty())
        footings.push_back({cutting.test, cutting.year, cutting.cutting, std::move(text)});
    }
  }
  return footings;
}

std::vector<Footing> dry_matter_footings(const std::vector<PlotYield>& plots) {
  std::vector<Footing> footings;
  for (const CuttingNotes& cutting : cuttings_of(plots)) {
    std::vector<std::string> parts;
    parts.reserve(cutting.plots.size());
    for (const auto& [from, numbers] : cutting.plots) parts.push_back(used_text(from, numbers));
    if (parts.empty()) continue;
    std::string text = "Dry matter: " + listed(parts) + ".";
    if (!cutting.composites.empty())
      text +=
          " Dry matter was not replicated: " +
          counted(cutting.composites.size(), "composite sample stands", "composite samples stand") +
          " for several plots.";
    footings.push_back({cutting.test, cutting.year, cutting.cutting, std::move(text)});
  }
  return footings;
}

std::vector<Error> borrowed_notices(const std::vector<PlotYield>& plots) {
  std::vector<Error> notices;
  for (const CuttingNotes& cutting : cuttings_of(plots)) {
    for (const FractionFrom from : {FractionFrom::kEntryMean, FractionFrom::kTrialMean}) {
      const auto at = cutting.plots.find(from);
      if (at == cutting.plots.end()) continue;
      const bool entry = from == FractionFrom::kEntryMean;
      notices.push_back(
          {ErrorKind::kRefused,
           std::string("without a sample of their own: dry matter is the mean of the ") +
               (entry ? "entry's" : "trial's") + " samples of that day",
           cutting.test + " " + std::to_string(cutting.year) + " cutting " +
               std::to_string(cutting.cutting) + " plots " + listed(at->second),
           "plots.csv says why and from which bags; a bag that is found is weighed in Dry "
           "weights"});
    }
  }
  return notices;
}

}  // namespace ligule::results
