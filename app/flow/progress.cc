#include "app/flow/progress.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "storage/trial/composition.h"
#include "storage/trial/details.h"
#include "storage/trial/reached.h"
#include "storage/trial/sample_bag.h"

namespace ligule::flow {
namespace {

const AsSown* sown_as(const KnownTrial& trial, const PlanPlot& plot) {
  const auto at = std::ranges::find(trial.as_sown, plot_id_in(trial, plot), &AsSown::plot);
  return at == trial.as_sown.end() ? nullptr : &*at;
}

using ByPlotAndMeasure = std::map<std::pair<Uuid, std::string_view>, const KnownClaim*>;

enum class PlotProgress { kOpen, kLater, kDone };

// Numbers of bags whose fresh weight is still to come, each once; of a composite the first plot's
// claim speaks. What is gone needs none.
std::vector<std::string> bags_without_fresh(const PlanOccasion& occasion,
                                            std::span<const KnownClaim> claims,
                                            const ByPlotAndMeasure& values) {
  std::vector<std::string> numbers;
  std::set<Uuid> seen;  // bags: a composite is named by each of its plots
  const auto& listed = occasion.measures;
  if (std::ranges::find(listed, measure::kSampleFresh) == listed.end()) return numbers;
  for (const KnownClaim& claim : claims) {
    const Record& record = claim.record;
    if (record.measure != measure::kBagNumber || record.state != ValueState::kValue) continue;
    const auto shared = parse_uuid(detail(record.details, std::string(sample_bag::kSameBag)));
    const Uuid bag = shared.value_or(claim.first.uuid);
    if (!seen.insert(bag).second) continue;
    const auto fresh = values.find({bag, measure::kSampleFresh});
    if (fresh != values.end() && fresh->second->record.state != ValueState::kLater) continue;
    const auto dried = values.find({bag, measure::kSampleDry});
    if (dried != values.end() && dried->second->record.state == ValueState::kMissing) continue;
    numbers.push_back(record.entered);
  }
  return numbers;
}

// Plots whose sample is sorted in part: something of it stands, and not all.
std::vector<std::string> half_sorted(const KnownTrial& trial, std::span<const KnownClaim> claims,
                                     const ByPlotAndMeasure& values) {
  struct Sorted {
    bool whole = false;
    std::size_t parts = 0;
  };
  std::map<Uuid, Sorted> plots;
  const auto weighed = [&](const Uuid& bag) {
    const auto fresh = values.find({bag, measure::kSampleFresh});
    return fresh != values.end() && fresh->second->record.state != ValueState::kLater;
  };
  for (const KnownClaim& claim : claims) {
    const Record& record = claim.record;
    if (!record.subject || record.state == ValueState::kLater) continue;
    if (record.measure == measure::kSeparatedFresh) plots[*record.subject].whole = true;
    if (record.measure != measure::kPartBag) continue;
    Sorted& sorted = plots[*record.subject];
    if (record.state == ValueState::kZero || weighed(claim.first.uuid)) ++sorted.parts;
  }
  std::vector<std::string> numbers;
  for (const PlanPlot& plot : trial.plan.along_path()) {
    const auto at = plots.find(plot_id_in(trial, plot).uuid);
    if (at == plots.end()) continue;
    if (!at->second.whole || at->second.parts < composition::kPartCount)
      numbers.push_back(plot.number);
  }
  return numbers;
}

PlotProgress state_of(const Uuid& plot, const std::vector<std::string>& needed,
                      const ByPlotAndMeasure& claims) {
  bool put_off = false;
  for (const std::string& measure : needed) {
    const auto at = claims.find({plot, measure});
    if (at == claims.end()) return PlotProgress::kOpen;
    const Record& record = at->second->record;
    put_off = put_off || record.state == ValueState::kLater || says_not_yet(record);
  }
  return put_off ? PlotProgress::kLater : PlotProgress::kDone;
}

}  // namespace

const Scale* scale_in(const KnownTrial& trial, const Definitions& definitions,
                      std::string_view measure, std::string_view species) {
  const Scale* const own = trial.plan.find_score(measure);
  return own != nullptr ? own : definitions.scale_for(measure, species);
}

PlotId plot_id_in(const KnownTrial& trial, const PlanPlot& plot) {
  const auto known = trial.plot_ids.find(plot.number);
  return known == trial.plot_ids.end() ? trial.plan.plot(plot) : known->second;
}

const PlanEntry* entry_of(const KnownTrial& trial, const PlanPlot& plot) {
  const AsSown* const sown = sown_as(trial, plot);
  if (sown == nullptr) return trial.plan.find_entry(plot.entry);
  if (sown->status == AsSownStatus::kUnknown) return nullptr;
  if (sown->status != AsSownStatus::kHolds || !sown->holds) {
    return trial.plan.find_entry(plot.entry);
  }
  const auto at = std::ranges::find_if(trial.plan.entries, [&](const PlanEntry& entry) {
    return trial.plan.entry(entry) == *sown->holds;
  });
  return at == trial.plan.entries.end() ? nullptr : &*at;
}

std::optional<CalendarDate> abandoned_since(const KnownTrial& trial, std::string_view number,
                                            CalendarDate day) {
  const PlanPlot* const plot = trial.plan.find_plot(number);
  const AsSown* const sown = plot == nullptr ? nullptr : sown_as(trial, *plot);
  const bool gone = sown != nullptr && sown->status == AsSownStatus::kAbandoned;
  return gone && sown->since <= day ? std::optional(sown->since) : std::nullopt;
}

std::vector<PlanPlot> plots_on(const KnownTrial& trial, CalendarDate day) {
  std::vector<PlanPlot> plots = trial.plan.along_path();
  std::erase_if(plots, [&](const PlanPlot& plot) {
    return abandoned_since(trial, plot.number, day).has_value();
  });
  return plots;
}

std::vector<std::string> measures_of(const KnownTrial& trial, const PlanOccasion& occasion,
                                     const PlanPlot& plot, const Definitions& definitions) {
  std::vector<std::string> listed = occasion.measures;
  if (listed.empty() && occasion.job == Job::kHarvest) {
    listed.emplace_back(measure::kGrossWeight);
  }
  const PlanEntry* const entry = entry_of(trial, plot);
  // A plot that holds nobody knows what is still measured, on the scale of the species planned.
  const PlanEntry* const planned = trial.plan.find_entry(plot.entry);
  const std::string species = entry != nullptr     ? entry->species
                              : planned != nullptr ? planned->species
                                                   : std::string();
  std::erase_if(listed, [&](const std::string& measure) {
    return scale_in(trial, definitions, measure, species) == nullptr;
  });
  return listed;
}

std::vector<std::string> needed_of(const KnownTrial& trial, const PlanOccasion& occasion,
                                   const PlanPlot& plot, const Definitions& definitions) {
  // What the plot really holds decides; of one that holds nobody knows what, what was planned.
  const PlanEntry* const entry = entry_of(trial, plot);
  if (!occasion.is_for(entry == nullptr ? plot.entry : entry->code)) return {};
  std::vector<std::string> needed = measures_of(trial, occasion, plot, definitions);
  std::erase_if(needed, [&](const std::string& measure) {
    if (occasion.job == Job::kHarvest) return measure != measure::kGrossWeight;
    return measure == measure::kNote;
  });
  return needed;
}

bool wants_bag(const KnownTrial& trial, const PlanOccasion& occasion, const PlanPlot& plot,
               const Definitions& definitions, const Record* gross) {
  if (occasion.job != Job::kHarvest || gross == nullptr) return false;
  if (gross->state != ValueState::kValue && gross->state != ValueState::kOnHold) return false;
  const auto listed = measures_of(trial, occasion, plot, definitions);
  return std::ranges::find(listed, measure::kBagNumber) != listed.end();
}

OccasionProgress progress_of(const KnownTrial& trial, const PlanOccasion& occasion,
                             const Definitions& definitions, std::span<const KnownClaim> claims,
                             CalendarDate today) {
  OccasionProgress progress;
  progress.trial = trial.plan.id();
  progress.occasion = trial.plan.occasion(occasion);
  ByPlotAndMeasure values;
  // Identifiers are hashes: worked out once, not for every value.
  std::map<Uuid, const PlanPlot*> plots;
  for (const PlanPlot& plot : trial.plan.plots) plots.emplace(plot_id_in(trial, plot).uuid, &plot);
  std::map<Uuid, std::string> bag_plots;  // first bag_number reading to plot number
  for (const KnownClaim& claim : claims) {
    if (!claim.record.subject) continue;
    const auto [at, fresh] = values.emplace(
        std::pair{*claim.record.subject, std::string_view(claim.record.measure)}, &claim);
    // Of several visits the one that found it reached tells.
    if (!fresh && says_not_yet(at->second->record)) at->second = &claim;
    if (!numbers_a_bag(claim.record.measure)) continue;
    const auto plot = plots.find(*claim.record.subject);
    if (plot != plots.end()) bag_plots.emplace(claim.first.uuid, plot->second->number);
  }
  for (const PlanPlot& plot : plots_on(trial, today)) {
    const auto needed = needed_of(trial, occasion, plot, definitions);
    if (needed.empty()) continue;
    ++progress.total;
    const Uuid subject = plot_id_in(trial, plot).uuid;
    PlotProgress state = state_of(subject, needed, values);
    const auto gross = values.find({subject, measure::kGrossWeight});
    if (gross != values.end() && !values.contains({subject, measure::kBagNumber}) &&
        wants_bag(trial, occasion, plot, definitions, &gross->second->record))
      state = PlotProgress::kOpen;
    if (state == PlotProgress::kDone) {
      ++progress.done;
      continue;
    }
    progress.open_plots.push_back(plot.number);
    if (state == PlotProgress::kLater) ++progress.later;
  }
  progress.not_fresh = bags_without_fresh(occasion, claims, values);
  progress.unsorted = half_sorted(trial, claims, values);
  for (const KnownClaim& claim : claims) {
    const Record& record = claim.record;
    const bool is_today = record.at.local_date == today;
    if (is_today && record.state != ValueState::kLater) ++progress.values_today;
    if (!record.subject) continue;
    const auto plot = plots.find(*record.subject);
    const auto bag = bag_plots.find(*record.subject);
    const std::string number = plot != plots.end()      ? plot->second->number
                               : bag != bag_plots.end() ? bag->second
                                                        : std::string();
    const std::string rule = record.answers.empty() ? std::string() : record.answers.front().rule;
    if (record.state == ValueState::kOnHold) {
      progress.on_hold.push_back({number, record.measure, rule});
    } else if (is_today && !rule.empty() && record.kind != kind::kSettlement) {
      progress.questioned.push_back({number, record.measure, rule});
    }
  }
  return progress;
}

}  // namespace ligule::flow
