#include "sync/gather/plot_season.h"

#include <algorithm>
#include <cmath>

#include "storage/ledger/earlier_cuttings.h"
#include "storage/trial/first_said.h"
#include "storage/trial/unit_names.h"

namespace ligule::gather {
namespace {

bool is_side(const std::string& measure) {
  return measure == measure::kSwathLength || measure == measure::kSwathWidth;
}

// Weights far from one robust fit of all.
void drop_odd(const std::vector<checks::WeighedPlot>& path, const std::vector<std::string>& numbers,
              std::map<std::string, Kilograms>& forage) {
  constexpr double kLeastShare = 0.1;  // of what the fit says, as expected_weight() has it
  std::vector<checks::WeighedPlot> weighed;
  std::vector<std::string> names;
  for (std::size_t n = 0; n < path.size(); ++n) {
    const auto at = forage.find(numbers[n]);
    if (at == forage.end()) continue;
    weighed.push_back(path[n]);
    weighed.back().net = at->second.value();
    names.push_back(numbers[n]);
  }
  const checks::AdditiveFit fit = checks::fit_by_medians(weighed);
  for (std::size_t n = 0; n < weighed.size(); ++n) {
    const double residual = fit.residuals[n];
    const double least = kLeastShare * std::fabs(weighed[n].net - residual);
    if (std::fabs(residual) > std::max(checks::kSpreads * fit.spread, least))
      forage.erase(names[n]);
  }
}

}  // namespace

Result<PlotSeason> PlotSeason::read(const ledger::Ledger& ledger, const Plan& plan,
                                    const PlanOccasion& cutting) {
  PlotSeason season;
  season.plan_ = &plan;
  const OccasionId here = plan.occasion(cutting);
  const auto claims = ledger.claims(plan.id());
  if (!claims) return std::unexpected(claims.error());
  for (const ledger::Claim& claim : *claims) {
    const Record& record = claim.record;
    const std::optional<double> value = record.value;
    if (record.purpose != Purpose::kSurvey || record.state != ValueState::kValue ||
        !record.subject || !value)
      continue;
    const PlanPlot* const plot = plan.find_plot(PlotId{*record.subject});
    if (plot == nullptr) continue;
    if (record.measure == checks::kPercentStand && record.occasion != here) {
      const auto given = first_given(record, [&](RecordId id) { return ledger.find(id); });
      if (!given) return std::unexpected(given.error());
      season.stands_[plot->number].push_back({*value, *given});
    }
    if (!is_side(record.measure) || record.occasion != here) continue;
    if (const auto length = length_in(*value, record.unit))
      season.measured_[{*record.subject, record.measure}].push_back(*length);
  }
  auto sown = ledger.as_sown(plan.id());
  if (!sown) return std::unexpected(sown.error());
  season.as_sown_ = *std::move(sown);
  const auto runs = ledger.of_kind(kind::kHarvestRun, plan.id());
  if (!runs) return std::unexpected(runs.error());
  for (const Record& run : *runs)
    (run.occasion == here ? season.begun_ : season.cut_).push_back(run.at.local_date);
  auto earlier = ledger::earlier_cuttings(ledger, plan.id(), here);
  if (!earlier) return std::unexpected(earlier.error());
  season.earlier_ = *std::move(earlier);
  return season;
}

std::optional<double> PlotSeason::stand_on(const PlanPlot& plot, CalendarDate on) const {
  const auto rated = stands_.find(plot.number);
  if (rated == stands_.end()) return std::nullopt;
  const Stand* newest = nullptr;
  for (const Stand& stand : rated->second) {
    const CalendarDate day = stand.at.local_date;
    if (day.year() != on.year() || day > on) continue;
    if (newest == nullptr || newest->at.utc < stand.at.utc) newest = &stand;
  }
  if (newest == nullptr) return std::nullopt;
  const bool says = still_says(newest->at.local_date, on, as_sown_, plan_->plot(plot));
  return says ? std::optional(newest->percent) : std::nullopt;
}

std::optional<CalendarDate> PlotSeason::last_cut(CalendarDate on) const {
  // Of a cutting that was begun on another day it was asked then.
  if (std::ranges::any_of(begun_, [on](CalendarDate day) { return day < on; })) return std::nullopt;
  std::optional<CalendarDate> last;
  for (const CalendarDate day : cut_)
    if (day <= on) last = std::max(last, std::optional(day));
  return last;
}

std::optional<Metres> PlotSeason::side(const PlanPlot& plot, const std::string& measure,
                                       const StatedLength& planned) const {
  const auto measured = measured_.find({plan_->plot(plot).uuid, measure});
  if (measured != measured_.end() && measured->second.size() == 1) return measured->second.front();
  const auto length = planned.metres();
  return length ? std::optional(*length) : std::nullopt;
}

void PlotSeason::add(const PlanPlot& plot, CalendarDate on, const Definitions& definitions,
                     checks::History& history) const {
  history.stand = stand_on(plot, on);
  const auto sown = std::ranges::find(as_sown_, plan_->plot(plot), &AsSown::plot);
  if (sown != as_sown_.end() && sown->status == AsSownStatus::kAbandoned && sown->since <= on)
    history.abandoned = sown->since;
  // The rule counts the days up to today, and a file tells of days gone by.
  if (const auto cut = last_cut(on))
    history.last_cut =
        CalendarDate{date::sys_days{history.today} - (date::sys_days{on} - date::sys_days{*cut})};
  if (const PlanEntry* const entry = plan_->find_entry(plot.entry)) {
    history.cutting_yield = definitions.limit_for(kCuttingYield, entry->species);
    history.season_yield = definitions.limit_for(kSeasonYield, entry->species);
  }
  for (const std::map<std::string, double>& cutting : earlier_)
    if (const auto weighed = cutting.find(plot.number); weighed != cutting.end())
      history.season_net = history.season_net.value_or(Kilograms{}) + Kilograms(weighed->second);
  const auto length = side(plot, std::string(measure::kSwathLength), plan_->swath_length);
  const auto width = side(plot, std::string(measure::kSwathWidth), plan_->swath_width);
  if (length && width) history.strip = area(*length, *width);
}

AmongOthers PlotSeason::among_others(CalendarDate on,
                                     std::map<std::string, Kilograms> forage) const {
  const std::vector<PlanPlot> path = plan_->along_path();
  std::vector<checks::WeighedPlot> plots;
  std::vector<std::string> numbers;
  for (const PlanPlot& each : path) {
    plots.push_back({each.block, each.entry, 0, stand_on(each, on)});
    numbers.push_back(each.number);
  }
  drop_odd(plots, numbers, forage);
  checks::WeighedPath so_far;
  for (std::size_t n = 0; n < path.size(); ++n) {
    std::optional<checks::WeighedPlot>& weighed = so_far.emplace_back();
    const auto at = forage.find(numbers[n]);
    if (at == forage.end()) continue;
    weighed = plots[n];
    weighed->net = at->second.value();
  }
  std::vector<checks::WeighedPath> earlier;
  for (const std::map<std::string, double>& cutting : earlier_) {
    checks::WeighedPath& weighed = earlier.emplace_back();
    for (const PlanPlot& each : path) {
      const auto at = cutting.find(each.number);
      weighed.push_back(at == cutting.end() ? std::nullopt
                                            : std::optional(checks::WeighedPlot{
                                                  each.block, each.entry, at->second}));
    }
  }
  return {std::move(plots), std::move(numbers),
          checks::ExpectedInSeason(earlier, std::move(so_far))};
}

AmongOthers::AmongOthers(std::vector<checks::WeighedPlot> path, std::vector<std::string> numbers,
                         checks::ExpectedInSeason expected)
    : path_(std::move(path)), expected_(std::move(expected)) {
  for (std::size_t n = 0; n < numbers.size(); ++n) places_.emplace(std::move(numbers[n]), n);
}

std::optional<checks::ExpectedWeight> AmongOthers::expected(const std::string& plot) const {
  const auto at = places_.find(plot);
  if (at == places_.end()) return std::nullopt;
  return expected_.at(at->second, path_[at->second]);
}

}  // namespace ligule::gather
