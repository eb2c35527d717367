#include "storage/ledger/earlier_cuttings.h"

#include <algorithm>
#include <set>
#include <tuple>
#include <utility>

#include "storage/trial/unit_names.h"

namespace ligule::ledger {
namespace {

struct Net {
  double kilograms = 0;
  bool weighed = false;
  bool doubtful = false;
};

// Takes one standing claim into the weights of its plot.
void add(const Plan& plan, const Record& record, std::set<std::tuple<Uuid, std::string, int>>& seen,
         std::map<std::string, Net>& nets) {
  const bool gross = record.measure == measure::kGrossWeight;
  if (record.purpose != Purpose::kSurvey || !record.subject ||
      (!gross && record.measure != measure::kTareWeight))
    return;
  const PlanPlot* const plot = plan.find_plot(PlotId{*record.subject});
  if (plot == nullptr) return;
  Net& net = nets[plot->number];
  const auto mass = mass_in(record.value.value_or(0), record.unit);
  const bool twice = !seen.insert({*record.subject, record.measure, record.part}).second;
  if (twice || record.state != ValueState::kValue || !record.value || !mass) {
    net.doubtful = true;
    return;
  }
  net.kilograms += gross ? mass->value() : -mass->value();
  net.weighed = net.weighed || gross;
}

}  // namespace

Result<std::vector<std::map<std::string, double>>> earlier_cuttings(const Ledger& ledger,
                                                                    TrialId trial,
                                                                    OccasionId occasion) {
  std::vector<std::map<std::string, double>> cuttings;
  const auto plan = ledger.plan(trial);
  if (!plan && plan.error().kind == ErrorKind::kNotFound) return cuttings;
  if (!plan) return std::unexpected(plan.error());
  const PlanOccasion* const here = plan->plan.find_occasion(occasion);
  if (here == nullptr || here->job != Job::kHarvest) return cuttings;
  std::vector<const PlanOccasion*> before;
  for (const PlanOccasion& other : plan->plan.occasions)
    if (other.job == Job::kHarvest && other.year == here->year && other.cutting < here->cutting)
      before.push_back(&other);
  std::ranges::sort(before, {}, &PlanOccasion::cutting);
  for (const PlanOccasion* const other : before) {
    const auto claims = ledger.claims(trial, plan->plan.occasion(*other));
    if (!claims) return std::unexpected(claims.error());
    std::map<std::string, Net> nets;
    std::set<std::tuple<Uuid, std::string, int>> seen;
    for (const Claim& claim : *claims) add(plan->plan, claim.record, seen, nets);
    std::map<std::string, double> weights;
    for (const auto& [plot, net] : nets)
      if (net.weighed && !net.doubtful) weights[plot] = net.kilograms;
    if (!weights.empty()) cuttings.push_back(std::move(weights));
  }
  return cuttings;
}

}  // namespace ligule::ledger
