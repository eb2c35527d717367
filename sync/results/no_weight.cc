#include "sync/results/no_weight.h"

#include <algorithm>
#include <map>
#include <tuple>
#include <utility>

namespace ligule::results {
namespace {

std::string joined(const std::vector<std::string>& plots) {
  std::string all;
  for (const std::string& plot : plots) all += (all.empty() ? "" : ", ") + plot;
  return all;
}

std::string cutting_of(const std::string& test, int year, int cutting) {
  return test + " " + std::to_string(year) + " cutting " + std::to_string(cutting);
}

std::string confirmed_text(std::size_t confirmed, std::size_t open) {
  if (confirmed == 0) return "; none confirmed yet";
  return "; " + std::to_string(confirmed) + " confirmed" +
         (open == 0 ? std::string() : ", " + std::to_string(open) + " not yet");
}

}  // namespace

std::string reason_text(const std::string& reason) {
  std::string text = reason;
  std::ranges::replace(text, '_', ' ');
  return text;
}

std::vector<NoWeightCount> no_weights(const std::vector<PlotYield>& plots) {
  std::map<std::tuple<std::size_t, bool, std::string>, NoWeightCount> counts;
  std::size_t cutting = 0;  // that comes n-th
  const PlotYield* before = nullptr;
  for (const PlotYield& plot : plots) {
    if (before != nullptr && std::tie(before->test, before->year, before->cutting) !=
                                 std::tie(plot.test, plot.year, plot.cutting))
      ++cutting;
    before = &plot;
    if (!plot.no_weight || plot.entry.empty()) continue;
    NoWeightCount& count = counts[{cutting, !plot.no_weight->zero, plot.no_weight->reason}];
    count.test = plot.test;
    count.year = plot.year;
    count.cutting = plot.cutting;
    count.why = {plot.no_weight->zero, plot.no_weight->reason};
    count.plots.push_back(plot.plot);
    if (plot.no_weight->zero && !plot.no_weight->confirmed) count.unconfirmed.push_back(plot.plot);
  }
  std::vector<NoWeightCount> all;
  all.reserve(counts.size());
  for (auto& [key, count] : counts) all.push_back(std::move(count));
  return all;
}

std::vector<Footing> no_weight_footings(const std::vector<PlotYield>& plots) {
  const std::vector<NoWeightCount> counts = no_weights(plots);
  std::vector<Footing> footings;
  for (std::size_t from = 0; from < counts.size();) {
    const NoWeightCount& first = counts[from];
    std::size_t all = 0;
    std::size_t open = 0;
    std::string reasons;
    // Those of one cutting that count alike stand together.
    for (; from < counts.size(); ++from) {
      const NoWeightCount& count = counts[from];
      if (std::tie(count.test, count.year, count.cutting, count.why.zero) !=
          std::tie(first.test, first.year, first.cutting, first.why.zero))
        break;
      all += count.plots.size();
      open += count.unconfirmed.size();
      reasons += (reasons.empty() ? "" : ", ") +
                 (count.why.reason.empty() ? std::string("no reason given")
                                           : reason_text(count.why.reason)) +
                 " " + std::to_string(count.plots.size());
    }
    footings.push_back({first.test, first.year, first.cutting,
                        std::to_string(all) + (all == 1 ? " plot counts" : " plots count") +
                            (first.why.zero ? " as zero: " : " as missing: ") + reasons +
                            (first.why.zero ? confirmed_text(all - open, open) : "") + "."});
  }
  return footings;
}

// A zero pulls a mean down as a lost weight does not: whoever answers for the trial confirms it.
std::vector<Error> zero_notices(const std::vector<PlotYield>& plots) {
  std::vector<Error> notices;
  for (const NoWeightCount& count : no_weights(plots)) {
    const std::size_t open = count.unconfirmed.size();
    if (open == 0) continue;
    notices.push_back(
        {ErrorKind::kRefused,
         std::to_string(open) + (open == 1 ? " plot counts as zero" : " plots count as zero") +
             (count.why.reason.empty() ? "" : ": " + reason_text(count.why.reason)),
         cutting_of(count.test, count.year, count.cutting) + " plots " + joined(count.unconfirmed),
         "confirm in Review that nothing grew there, or correct it to missing"});
  }
  return notices;
}

// A bin that nobody weighed is weighed with every plot.
std::vector<Error> missing_tare_notices(const std::vector<PlotYield>& plots) {
  std::vector<std::pair<std::string, std::vector<std::string>>> cuttings;
  for (const PlotYield& plot : plots) {
    if (!plot.tare_taken_as_zero || plot.entry.empty()) continue;
    std::string cutting = cutting_of(plot.test, plot.year, plot.cutting);
    if (cuttings.empty() || cuttings.back().first != cutting)
      cuttings.emplace_back(std::move(cutting), std::vector<std::string>());
    cuttings.back().second.push_back(plot.plot);
  }
  std::vector<Error> notices;
  notices.reserve(cuttings.size());
  for (const auto& [cutting, without] : cuttings) {
    notices.push_back(
        {ErrorKind::kRefused,
         std::to_string(without.size()) + (without.size() == 1 ? " plot" : " plots") +
             " without the tare that the plan asks for: taken as 0",
         cutting + " plots " + joined(without),
         "weigh the empty bin and enter its tare, or take the tare out of the plan's measures"});
  }
  return notices;
}

}  // namespace ligule::results
