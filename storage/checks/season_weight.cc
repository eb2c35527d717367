#include "storage/checks/season_weight.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "storage/checks/median.h"

namespace ligule::checks {
namespace {

constexpr std::size_t kNearest = 9;
constexpr double kLasting = 0.4;     // of a plot's residual, from one cutting to the next
constexpr double kOfCutting = 2;     // so many plots tell half of an entry's part in a cutting
constexpr double kLeastShare = 0.1;  // of the mean; of the middle, for the range
constexpr std::size_t kLeastErrors = 10;
// A spread from few errors is itself uncertain: it is taken for larger.
constexpr double kSeasonUncertain = 5;
// What levels and entries' parts of a cutting add to what plots lie apart about their entries,
// until today's errors tell.
constexpr double kOfToday = 1.2;
constexpr double kLeastStand = 5;  // percent: below, nothing can be made of a weight

double fullness(const WeighedPlot& plot) {
  return std::max(kLeastStand, plot.stand.value_or(100)) / 100;
}

double filled(const WeighedPlot& plot) {
  return plot.net / fullness(plot);
}

// A plot that was weighed today and earlier.
struct Known {
  std::size_t place = 0;
  int block = 0;
  std::string entry;
  double weight = 0;  // of a full stand
  double share = 0;   // by earlier cuttings
};

std::vector<Known> known_plots(const PastShares& past, const WeighedPath& so_far, std::size_t but) {
  std::vector<Known> out;
  for (std::size_t place = 0; place < so_far.size() && place < past.share.size(); ++place) {
    const std::optional<WeighedPlot>& plot = so_far[place];
    const std::optional<double>& share = past.share[place];
    if (plot && share && place != but)
      out.push_back({place, plot->block, plot->entry, filled(*plot), *share});
  }
  return out;
}

// What plots give today over their shares: of the other plots of the block, or of those nearest
// along the path; 0 where there are too few.
double level(const std::vector<Known>& known, std::size_t place, int block) {
  std::vector<double> same;
  for (const Known& other : known)
    if (other.place != place && other.block == block) same.push_back(other.weight / other.share);
  if (same.size() >= kLeastNear) return median(std::move(same));
  std::vector<std::pair<std::size_t, double>> near;  // steps along the path
  for (const Known& other : known)
    if (other.place != place)
      near.emplace_back(std::max(place, other.place) - std::min(place, other.place),
                        other.weight / other.share);
  if (near.size() < kLeastNear) return 0;
  std::ranges::sort(near);
  std::vector<double> nearest;
  for (const auto& [steps, ratio] : near)
    if (nearest.size() < kNearest) nearest.push_back(ratio);
  return median(std::move(nearest));
}

// How far a plot lies off its share today, as a share of its level.
struct Off {
  std::size_t place = 0;
  double value = 0;
};
using OffByEntry = std::map<std::string, std::vector<Off>>;

OffByEntry off_by_entry(const std::vector<Known>& known) {
  OffByEntry out;
  for (const Known& plot : known)
    if (const double around = level(known, plot.place, plot.block); around > 0)
      out[plot.entry].push_back({plot.place, plot.weight / around - plot.share});
  return out;
}

// What the entry's other plots tell of its part in this cutting.
double part_of(const OffByEntry& off, const std::string& entry, std::size_t but) {
  const auto found = off.find(entry);
  if (found == off.end()) return 0;
  std::vector<double> others;
  for (const Off& plot : found->second)
    if (plot.place != but) others.push_back(plot.value);
  const auto count = static_cast<double>(others.size());
  return median(std::move(others)) * count / (count + kOfCutting);
}

double spread_of(const PastShares& past, const OffByEntry& off) {
  std::vector<double> errors;
  for (const auto& [entry, plots] : off)
    for (const Off& plot : plots)
      errors.push_back(std::fabs(plot.value - part_of(off, entry, plot.place)));
  const auto count = static_cast<double>(errors.size());
  if (errors.size() < kLeastErrors) return past.spread;
  return kNormalSpread * (1 + kSeasonUncertain / count) * median(std::move(errors));
}

// What the plots of a cutting tell of each other.
struct Told {
  std::vector<Known> known;
  OffByEntry off;
  double spread = 0;
};

Told told_by(const PastShares& past, const WeighedPath& so_far, std::size_t but) {
  Told told{known_plots(past, so_far, but), {}, 0};
  told.off = off_by_entry(told.known);
  told.spread = spread_of(past, told.off);
  return told;
}

std::optional<ExpectedWeight> weight_at(const PastShares& past, const Told& told, std::size_t place,
                                        const WeighedPlot& next) {
  if (place >= past.share.size()) return std::nullopt;
  const std::optional<double>& share = past.share[place];
  if (!share) return std::nullopt;
  const double around = level(told.known, place, next.block);
  if (around <= 0) return std::nullopt;
  const double full = around * fullness(next);
  const double middle = std::max(0.0, full * (*share + part_of(told.off, next.entry, place)));
  const double reach = std::max(kSpreads * told.spread * full, kLeastShare * middle);
  return ExpectedWeight{middle, std::max(0.0, middle - reach), middle + reach};
}

// A thin stand gave less in earlier cuttings too: it must not be counted twice.
WeighedPath without_stands(WeighedPath path) {
  for (std::optional<WeighedPlot>& weighed : path)
    if (weighed) weighed->stand.reset();
  return path;
}

WeighedPlot without_stand(WeighedPlot plot) {
  plot.stand.reset();
  return plot;
}

std::optional<ExpectedWeight> by_others(const WeighedPath& so_far, std::size_t place,
                                        const WeighedPlot& next) {
  std::vector<WeighedPlot> others;
  for (std::size_t at = 0; at < so_far.size(); ++at) {
    const std::optional<WeighedPlot>& other = so_far[at];
    if (at != place && other) others.push_back(*other);
  }
  return expected_weight(others, next);
}

}  // namespace

PastShares past_shares(std::span<const WeighedPath> earlier) {
  struct Share {
    double entry = 0;
    double residual = 0;
    int times = 0;
  };
  std::size_t places = 0;
  for (const WeighedPath& cutting : earlier) places = std::max(places, cutting.size());
  std::vector<Share> told(places);
  PastShares out;
  int cuttings = 0;
  int freedom = 0;
  for (const WeighedPath& cutting : earlier) {
    std::vector<WeighedPlot> plots;
    std::vector<std::size_t> at;
    for (std::size_t place = 0; place < cutting.size(); ++place) {
      const std::optional<WeighedPlot>& plot = cutting[place];
      if (!plot) continue;
      plots.push_back(*plot);
      plots.back().net = filled(*plot);
      at.push_back(place);
    }
    const AdditiveFit fit = fit_by_medians(plots);
    if (!(fit.overall > 0)) continue;
    for (std::size_t n = 0; n < plots.size(); ++n) {
      told[at[n]].entry += fit.entries.at(plots[n].entry) / fit.overall;
      told[at[n]].residual += fit.residuals[n] / fit.overall;
      ++told[at[n]].times;
    }
    out.spread += fit.spread / fit.overall;
    freedom += fit.freedom;
    ++cuttings;
  }
  if (cuttings > 0)
    out.spread *= kOfToday / cuttings * (1 + kSeasonUncertain / std::max(1, freedom));
  for (const Share& each : told) {
    std::optional<double>& share = out.share.emplace_back();
    if (each.times == 0) continue;
    const double times = each.times;
    const double lasting = times * kLasting / (1 + (times - 1) * kLasting);
    share = std::max(kLeastShare, 1 + (each.entry + lasting * each.residual) / times);
  }
  return out;
}

std::optional<ExpectedWeight> season_weight(const PastShares& past, const WeighedPath& so_far,
                                            std::size_t place, const WeighedPlot& next) {
  return weight_at(past, told_by(past, so_far, place), place, next);
}

std::optional<ExpectedWeight> expected_in_season(std::span<const WeighedPath> earlier,
                                                 const WeighedPath& so_far, std::size_t place,
                                                 const WeighedPlot& next) {
  if (!earlier.empty())
    if (const auto expected =
            season_weight(past_shares(earlier), without_stands(so_far), place, without_stand(next)))
      return expected;
  return by_others(so_far, place, next);
}

ExpectedInSeason::ExpectedInSeason(std::span<const WeighedPath> earlier, WeighedPath so_far) {
  PastShares past = past_shares(earlier);
  Told told;
  if (!earlier.empty()) told = told_by(past, without_stands(so_far), so_far.size());
  at_ = [past = std::move(past), told = std::move(told), so_far = std::move(so_far)](
            std::size_t place, const WeighedPlot& next) {
    if (auto expected = weight_at(past, told, place, without_stand(next))) return expected;
    return by_others(so_far, place, next);
  };
}

}  // namespace ligule::checks
