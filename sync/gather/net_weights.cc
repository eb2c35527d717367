#include "sync/gather/net_weights.h"

#include "storage/checks/exchanged.h"
#include "storage/checks/lane_shift.h"
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

std::optional<double> NetWeights::net_of(const std::string& plot) const {
  const auto net = plots_.find(plot);
  if (net == plots_.end() || !net->second.weighed) return std::nullopt;
  return net->second.gross - net->second.tare;
}

std::vector<Error> NetWeights::exchanged(const Plan& plan, const std::string& file) const {
  const std::vector<PlanPlot> path = plan.along_path();
  checks::WeighedPath weighed;
  weighed.reserve(path.size());
  for (const PlanPlot& plot : path) {
    std::optional<checks::WeighedPlot>& place = weighed.emplace_back();
    if (const auto net = net_of(plot.number))
      place = checks::WeighedPlot{plot.block, plot.entry, *net};
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

std::vector<Error> NetWeights::shifted(const Plan& plan, const PlanOccasion& cutting,
                                       const std::string& file) const {
  std::vector<checks::LanePlot> lane;
  std::vector<std::string> numbers;
  for (const PlanPlot& plot : plan.along_path()) {
    const auto net = net_of(plot.number);
    if (!net && !cutting.is_for(plot.entry)) continue;
    lane.push_back({plot.block, plot.entry, net});
    numbers.push_back(plot.number);
  }
  const auto shift = checks::lane_shift(lane);
  if (!shift) return {};
  const bool early = shift->entered == checks::Entered::kTooEarly;
  return {{ErrorKind::kRefused,
           "the weights of plots " + numbers[shift->first] + " to " + numbers[shift->last] +
               " fit better one plot " + (early ? "further on" : "back") + " along the path",
           file,
           std::string("was a plot ") + (early ? "passed over" : "counted twice") +
               "? Look at where they were written down first"}};
}

}  // namespace ligule::gather
