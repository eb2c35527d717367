#include "sync/results/dry_matter_notes.h"

#include <algorithm>
#include <map>
#include <set>
#include <string>

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
struct Cutting {
  std::string test;
  int year = 0;
  int cutting = 0;
  std::map<FractionFrom, std::vector<std::string>> plots;
  std::set<std::vector<std::string>> composites;  // by the numbers of their bags
};

// In the order of `plots`.
std::vector<Cutting> cuttings_of(const std::vector<PlotYield>& plots) {
  std::vector<Cutting> cuttings;
  for (const PlotYield& plot : plots) {
    if (cuttings.empty() || cuttings.back().test != plot.test ||
        cuttings.back().year != plot.year || cuttings.back().cutting != plot.cutting)
      cuttings.push_back({plot.test, plot.year, plot.cutting, {}, {}});
    // One without a fraction stands among those without a yield.
    if (plot.entry.empty() || !plot.dry_matter.fraction) continue;
    Cutting& cutting = cuttings.back();
    cutting.plots[plot.dry_matter.from].push_back(plot.plot);
    if (plot.dry_matter.from == FractionFrom::kComposite)
      cutting.composites.insert(plot.dry_matter.bags);
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

}  // namespace

std::vector<Footing> dry_matter_footings(const std::vector<PlotYield>& plots) {
  std::vector<Footing> footings;
  for (const Cutting& cutting : cuttings_of(plots)) {
    std::vector<std::string> parts;
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
  for (const Cutting& cutting : cuttings_of(plots)) {
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
