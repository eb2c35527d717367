#include "sync/results/sown_yield.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include "storage/trial/unit_names.h"
#include "sync/results/labels.h"

namespace ligule::results {
namespace {

constexpr const char* kNotSeparated = "no sample was separated";
// Plots that a footing names one by one.
constexpr std::size_t kMostNamed = 12;

std::string listed(const std::vector<std::string>& texts) {
  std::string all;
  for (const std::string& text : texts) all += (all.empty() ? "" : ", ") + text;
  return all;
}

std::string counted_plots(const std::vector<std::string>& plots) {
  return std::to_string(plots.size()) + (plots.size() == 1 ? " plot" : " plots");
}

// What a plot's separated sample came to; null without one that is whole.
const Composition* good_sample(const PlotYield& plot) {
  const bool good = plot.composition && plot.composition->state == SampleState::kGood;
  return good ? &*plot.composition : nullptr;
}

bool says_nothing_sown(const PlotYield& plot) {
  return plot.no_weight && plot.no_weight->zero;
}

auto cutting_of(const PlotYield& plot) {
  return std::tie(plot.test, plot.year, plot.cutting);
}

std::string place_of(const PlotYield& plot) {
  return plot.test + " " + std::to_string(plot.year) + " cutting " + std::to_string(plot.cutting);
}

// Calls `see` with the rows of each cutting.
template <class See>
void each_cutting(std::span<const PlotYield> plots, const See& see) {
  for (std::size_t from = 0; from < plots.size();) {
    std::size_t to = from;
    while (to < plots.size() && cutting_of(plots[to]) == cutting_of(plots[from])) ++to;
    see(plots.subspan(from, to - from));
    from = to;
  }
}

bool is_adjusted(const PlotYield& plot, SownBasis basis) {
  const SownFrom from = sown_yield(plot, basis).from;
  return from == SownFrom::kSeparated || from == SownFrom::kByEye;
}

template <class Quantity>
std::string number_or_empty(const std::optional<Quantity>& quantity) {
  return quantity ? exact(quantity->value()) : std::string();
}

Result<std::string> yield_text(const std::optional<KilogramsPerHectare>& yield,
                               std::string_view unit) {
  if (!yield) return std::string();
  const Result<double> converted = yield_in(*yield, unit);
  if (!converted) return std::unexpected(converted.error());
  return exact(*converted);
}

std::string spaced(const std::vector<std::string>& texts) {
  std::string all;
  for (const std::string& text : texts) all += (all.empty() ? "" : " ") + text;
  return all;
}

std::string header() {
  std::string text =
      "test,year,cutting,rep,plot,entry,whole_fresh_kg,parts_fresh_kg,"
      "parts_of_whole_percent";
  for (const std::string_view part : composition::kParts)
    text += "," + std::string(part) + "_dry_kg";
  for (const std::string_view part : composition::kParts)
    text += "," + std::string(part) + "_percent";
  return text +
         ",bags,without_composition_because,weeds_by_eye_percent,weeds_by_eye_on,"
         "total_yield,sown_yield,sown_yield_from,without_sown_yield_because,unit,records\n";
}

}  // namespace

std::string_view name_of(SownFrom from) {
  switch (from) {
    case SownFrom::kSeparated:
      return "separated sample";
    case SownFrom::kNothingSown:
      return "nothing sown was cut";
    case SownFrom::kByEye:
      return "weeds by eye";
    case SownFrom::kNone:
      break;
  }
  return {};
}

SownYield sown_yield(const PlotYield& plot, SownBasis basis) {
  if (plot.entry.empty()) return {SownFrom::kNone, {}, plot.why};
  const Composition* const sample = good_sample(plot);
  if (says_nothing_sown(plot)) {
    // Two people said two things: neither is taken for right.
    if (sample != nullptr && sample->sown_share() > 0)
      return {SownFrom::kNone, {}, "said to hold nothing sown, and its separated sample does"};
    return {SownFrom::kNothingSown, KilogramsPerHectare(0.0), {}};
  }
  if (!plot.total) return {SownFrom::kNone, {}, plot.why};
  if (sample != nullptr) {
    // The sample is of what was not set apart as weeds only.
    const KilogramsPerHectare sampled = plot.yield.value_or(*plot.total);
    return {SownFrom::kSeparated, sampled * sample->sown_share(), {}};
  }
  const bool never = !plot.composition || plot.composition->state == SampleState::kLost;
  if (basis == SownBasis::kByEye && never && plot.weeds)
    return {SownFrom::kByEye, *plot.total * ((100.0 - plot.weeds->percent) / 100.0), {}};
  return {SownFrom::kNone, {}, plot.composition ? plot.composition->why : kNotSeparated};
}

bool has_sown_yields(std::span<const PlotYield> plots, SownBasis basis) {
  return std::ranges::any_of(plots,
                             [&](const PlotYield& plot) { return is_adjusted(plot, basis); });
}

Result<std::vector<PlotValue>> sown_values(std::span<const PlotYield> plots, std::string_view unit,
                                           SownBasis basis) {
  return values_by(plots, unit,
                   [&](const PlotYield& plot) { return sown_yield(plot, basis).yield; });
}

std::vector<Footing> sown_footings(std::span<const PlotYield> plots, SownBasis basis) {
  std::vector<Footing> footings;
  each_cutting(plots, [&](std::span<const PlotYield> cutting) {
    std::map<SownFrom, std::vector<std::string>> by;
    std::map<std::string, std::vector<std::string>> without;  // by why
    for (const PlotYield& plot : cutting) {
      if (plot.entry.empty()) continue;
      const SownYield sown = sown_yield(plot, basis);
      if (sown.from == SownFrom::kNone)
        without[sown.why].push_back(plot.plot);
      else
        by[sown.from].push_back(plot.plot);
    }
    const PlotYield& first = cutting.front();
    const auto add = [&](std::string text) {
      footings.push_back({first.test, first.year, first.cutting, std::move(text)});
    };
    if (const auto at = by.find(SownFrom::kByEye); at != by.end())
      add("Adjusted by eye: " + counted_plots(at->second) + " (" + listed(at->second) +
          "), total yield less the percent of weeds that somebody saw, which nobody weighed.");
    if (const auto at = by.find(SownFrom::kSeparated); at != by.end())
      add("Sown-species yield of " + counted_plots(at->second) +
          ": total yield times the dry share of sown and other sown in the plot's own separated "
          "sample.");
    if (const auto at = by.find(SownFrom::kNothingSown); at != by.end())
      add(counted_plots(at->second) + " (" + listed(at->second) +
          ") gave nothing that was sown and " + (at->second.size() == 1 ? "counts" : "count") +
          " as zero.");
    for (const auto& [why, numbers] : without) {
      // Mostly nobody meant to separate these: their number is enough.
      const bool named = why != kNotSeparated || numbers.size() <= kMostNamed;
      add("Without a sown-species yield: " + counted_plots(numbers) +
          (named ? " (" + listed(numbers) + ")" : std::string()) +
          (why.empty() ? std::string() : ", " + why) + ".");
    }
  });
  return footings;
}

std::vector<Error> composition_notices(std::span<const PlotYield> plots) {
  std::vector<Error> notices;
  for (const PlotYield& plot : plots) {
    if (!plot.composition) continue;
    const Composition& made = *plot.composition;
    const std::string where = place_of(plot) + " plot " + plot.plot;
    if (made.state == SampleState::kLost || made.state == SampleState::kWaiting)
      notices.push_back({ErrorKind::kRefused, "composition not complete: " + made.why, where,
                         made.state == SampleState::kLost
                             ? "a bag that is found is weighed in Dry weights"
                             : "weigh or state it in Dry weights"});
    if (good_sample(plot) != nullptr && says_nothing_sown(plot) && made.sown_share() > 0)
      notices.push_back({ErrorKind::kRefused, sown_yield(plot, SownBasis::kSeparated).why, where,
                         "take one of the two back in Review"});
    const auto percent = made.parts_percent();
    // A billionth is what taking bags off may leave.
    if (percent && std::fabs(*percent / 100.0 - 1.0) > composition::kTolerance + 1e-9)
      notices.push_back({ErrorKind::kRefused,
                         "the fresh parts come to " + rounded(*percent, 1) + " % of the whole",
                         where, "look at the weights of the separated sample"});
  }
  return notices;
}

std::vector<EntryComposition> entry_compositions(std::span<const PlotYield> plots) {
  std::vector<EntryComposition> rows;
  each_cutting(plots, [&](std::span<const PlotYield> cutting) {
    std::map<std::string, EntryComposition> entries;
    for (const PlotYield& plot : cutting) {
      const Composition* const sample = good_sample(plot);
      if (plot.entry.empty() || sample == nullptr) continue;
      EntryComposition& entry = entries[plot.entry];
      entry.test = plot.test;
      entry.year = plot.year;
      entry.cutting = plot.cutting;
      entry.entry = plot.entry;
      ++entry.plots;
      for (std::size_t part = 0; part < entry.percent.size(); ++part)
        entry.percent.at(part) += sample->percent.at(part);
    }
    for (auto& [label, entry] : entries) {
      for (double& percent : entry.percent) percent /= static_cast<double>(entry.plots);
      rows.push_back(std::move(entry));
    }
  });
  return rows;
}

Result<std::string> composition_csv(std::span<const PlotYield> plots, std::string_view unit,
                                    SownBasis basis) {
  std::string text;
  for (const PlotYield& plot : plots) {
    if (!plot.composition && !plot.weeds) continue;
    const Composition made = plot.composition.value_or(Composition{});
    const SownYield sown = sown_yield(plot, basis);
    const Result<std::string> total = yield_text(plot.total, unit);
    if (!total) return std::unexpected(total.error());
    const Result<std::string> of_sown = yield_text(sown.yield, unit);
    if (!of_sown) return std::unexpected(of_sown.error());
    const auto percent = made.parts_percent();
    std::vector<std::string> fields = {plot.test,
                                       std::to_string(plot.year),
                                       std::to_string(plot.cutting),
                                       std::to_string(plot.block),
                                       plot.plot,
                                       plot.entry,
                                       number_or_empty(made.whole),
                                       number_or_empty(made.fresh),
                                       percent ? exact(*percent) : std::string()};
    for (const auto& dry : made.dry) fields.push_back(number_or_empty(dry));
    for (const double share : made.percent)
      fields.push_back(good_sample(plot) != nullptr ? exact(share) : std::string());
    std::string records;
    for (const auto* const ids : {&made.records, plot.weeds ? &plot.weeds->records : nullptr}) {
      if (ids == nullptr) continue;
      for (const RecordId& id : *ids) records += (records.empty() ? "" : " ") + id.text();
    }
    fields.insert(fields.end(),
                  {spaced(made.bags), plot.composition ? made.why : kNotSeparated,
                   plot.weeds ? exact(plot.weeds->percent) : std::string(),
                   plot.weeds ? format_date(plot.weeds->day) : std::string(), *total, *of_sown,
                   std::string(name_of(sown.from)), sown.why, std::string(unit), records});
    text += csv_line(fields);
  }
  return text.empty() ? text : header() + text;
}

}  // namespace ligule::results
