#include "sync/gather/net_weights.h"

#include <optional>

#include "storage/checks/exchanged.h"
#include "storage/trial/unit_names.h"

namespace ligule::gather {

void NetWeights::add(const std::string& plot, const TakenValue& value) {
  const bool gross = value.measure == measure::kGrossWeight;
  if (!gross && value.measure != measure::kTareWeight) return;
  if (value.state != ValueState::kValue || !value.value.value) return;
  const auto mass = mass_in(*value.value.value, value.value.unit);
  if (!mass) return;
  Net& net = plots_[plot];
  (gross ? net.gross : net.tare) += mass->value();
  net.weighed = net.weighed || gross;
}

std::vector<Error> NetWeights::exchanged(const Plan& plan, const std::string& file) const {
  const std::vector<PlanPlot> path = plan.along_path();
  checks::WeighedPath weighed;
  weighed.reserve(path.size());
  for (const PlanPlot& plot : path) {
    std::optional<checks::WeighedPlot>& place = weighed.emplace_back();
    const auto net = plots_.find(plot.number);
    if (net == plots_.end() || !net->second.weighed) continue;
    place = checks::WeighedPlot{plot.block, plot.entry, net->second.gross - net->second.tare};
  }
  std::vector<std::size_t> pairs = checks::neighbours_apart(weighed);
  checks::drop_unlikely(weighed, pairs);
  std::vector<Error> notices;
  for (const std::size_t first : pairs) {
    if (!checks::probably_exchanged(weighed, first)) continue;
    notices.push_back({ErrorKind::kRefused,
                       "plots " + path[first].number + " and " + path[first + 1].number +
                           " may be exchanged: each weight fits the other plot",
                       file, "look at where they were written down first"});
  }
  return notices;
}

}  // namespace ligule::gather
