#include "sync/gather/beside.h"

#include <algorithm>
#include <cstdlib>

namespace ligule::gather {
namespace {

// Plots before and after it along the path, as on the tablet.
constexpr std::size_t kBeside = 2;

std::string joined(const std::vector<std::string>& texts, std::string_view between) {
  std::string all;
  for (const std::string& text : texts) {
    if (!all.empty()) all += between;
    all += text;
  }
  return all;
}

}  // namespace

Result<Beside> Beside::read(const ledger::Ledger& ledger, const Names& names, const Plan& plan,
                            const std::vector<Record>& standing) {
  Beside beside;
  beside.ledger_ = &ledger;
  beside.names_ = &names;
  beside.plan_ = &plan;
  for (const Record& record : standing) {
    const auto found = beside.home_of(record);
    if (!found) return std::unexpected(found.error());
    const std::optional<Home>& home = *found;
    if (!home) continue;
    const Home& at = *home;
    std::vector<std::string>& values =
        beside.shown_[{at.plot, at.bag, at.part, record.measure, record.occasion}][record.part];
    const std::string value = names.contender(record).value();
    if (std::ranges::find(values, value) == values.end()) values.push_back(value);
  }
  return beside;
}

// A bag that several plots share stands at the plot it was numbered at.
Result<std::optional<Beside::Home>> Beside::home_of(const Record& record) {
  const Uuid subject = record.subject.value_or(Uuid{});
  if (const auto known = homes_.find(subject); known != homes_.end()) return known->second;
  std::optional<Home> home;
  if (const PlanPlot* const plot = plan_->find_plot(PlotId{subject})) {
    home = Home{plot->number, {}, 0};
  } else if (record.subject) {
    const auto found = ledger_->find(RecordId{subject});
    if (!found) return std::unexpected(found.error());
    const std::optional<Record>& bag = *found;
    if (bag) {
      const PlanPlot* const of = plan_->find_plot(PlotId{bag->subject.value_or(Uuid{})});
      const int part = bag->measure == measure::kPartBag ? bag->part : 1;
      if (of != nullptr) home = Home{of->number, bag->measure, part};
    }
  }
  homes_.emplace(subject, home);
  return home;
}

std::string Beside::shown_on(const PlanPlot& plot, const Home& as, const Record& like) const {
  const auto at = shown_.find({plot.number, as.bag, as.part, like.measure, like.occasion});
  if (at == shown_.end()) return {};
  std::vector<std::string> parts;
  for (const auto& [part, values] : at->second) parts.push_back(joined(values, " or "));
  return joined(parts, " and ");
}

std::vector<PlotBeside> Beside::of(const Record& record) const {
  std::vector<PlotBeside> plots;
  const auto known = homes_.find(record.subject.value_or(Uuid{}));
  if (known == homes_.end()) return plots;
  const std::optional<Home>& home = known->second;
  if (!home) return plots;
  const PlanOccasion* const occasion = plan_->find_occasion(record.occasion.value_or(OccasionId{}));
  std::vector<PlanPlot> path = plan_->along_path();
  std::erase_if(path, [&](const PlanPlot& plot) {
    const bool planned = occasion == nullptr || occasion->is_for(plot.entry);
    return !planned && plot.number != home->plot && shown_on(plot, *home, record).empty();
  });
  const auto here = std::ranges::find(path, home->plot, &PlanPlot::number);
  if (here == path.end()) return plots;
  const auto place = static_cast<std::size_t>(here - path.begin());
  const std::size_t from = place > kBeside ? place - kBeside : 0;
  const std::size_t to = std::min(path.size(), place + kBeside + 1);
  const auto add = [&](const PlanPlot& plot, bool across) {
    plots.push_back({plot.number, shown_on(plot, *home, record), across});
  };
  for (std::size_t at = from; at < to; ++at)
    if (at != place) add(path[at], false);
  for (std::size_t at = 0; at < path.size(); ++at) {
    const bool next = path[at].column == here->column && std::abs(path[at].row - here->row) == 1;
    if (next && (at < from || at >= to)) add(path[at], true);
  }
  return plots;
}

}  // namespace ligule::gather
