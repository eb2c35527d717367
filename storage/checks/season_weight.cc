#include "storage/checks/season_weight.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

namespace ligule::checks {
namespace {

constexpr std::size_t kNearest = 9;
constexpr double kLasting = 0.4;     // of a plot's residual, from one cutting to the next
constexpr double kOfCutting = 2;     // so many plots tell half of an entry's part in a cutting
constexpr double kLeastShare = 0.1;  // of the mean; and of the middle, for the range
constexpr std::size_t kLeastErrors = 10;
// A spread from few errors is itself uncertain: it is taken for larger.
constexpr double kUncertain = 5;
// What levels and entries' parts of a cutting add to what plots lie apart about their entries,
// until today's errors tell.
constexpr double kOfToday = 1.2;
constexpr double kNormalSpread = 1.4826;
constexpr double kLeastStand = 5;  // percent: below, nothing can be made of a weight

double median(std::vector<double> values) {
  if (values.empty()) return 0;
  std::ranges::sort(values);
  const std::size_t middle = values.size() / 2;
  return values.size() % 2 == 1 ? values[middle] : (values[middle - 1] + values[middle]) / 2;
}

double fullness(const WeighedPlot& plot) {
  return std::max(kLeastStand, plot.stand.value_or(100)) / 100;
}

double filled(const WeighedPlot& plot) {
  return plot.net / fullness(plot);
}

// Weights of today over what earlier cuttings let one expect, by place; empty where either is not
// known.
std::vector<std::optional<double>> ratios(const PastShares& past, const WeighedPath& so_far) {
  std::vector<std::optional<double>> out(so_far.size());
  for (std::size_t place = 0; place < so_far.size() && place < past.share.size(); ++place)
    if (so_far[place] && past.share[place])
      out[place] = filled(*so_far[place]) / *past.share[place];
  return out;
}

// Of the other plots of the block, or of those nearest along the path; 0 where there are too few.
double level(const WeighedPath& so_far, const std::vector<std::optional<double>>& ratio,
             std::size_t place, int block) {
  std::vector<double> near;
  for (std::size_t other = 0; other < ratio.size(); ++other)
    if (other != place && ratio[other] && so_far[other]->block == block)
      near.push_back(*ratio[other]);
  if (near.size() >= kLeastNear) return median(std::move(near));
  near.clear();
  for (std::size_t step = 1; step <= ratio.size() && near.size() < kNearest; ++step) {
    if (place >= step && place - step < ratio.size() && ratio[place - step])
      near.push_back(*ratio[place - step]);
    if (place + step < ratio.size() && ratio[place + step]) near.push_back(*ratio[place + step]);
  }
  return near.size() >= kLeastNear ? median(std::move(near)) : 0;
}

// How far each weighed plot lies off its share, as a share of its level, by entry.
struct Today {
  std::vector<std::optional<double>> off;  // by place
  std::map<std::string, std::vector<std::size_t>> of_entry;

  // What the entry's other plots tell of its part in this cutting.
  [[nodiscard]] double part(const std::string& entry, std::size_t but) const {
    const auto found = of_entry.find(entry);
    if (found == of_entry.end()) return 0;
    std::vector<double> others;
    for (const std::size_t place : found->second)
      if (place != but) others.push_back(*off[place]);
    const auto count = static_cast<double>(others.size());
    return median(std::move(others)) * count / (count + kOfCutting);
  }
};

Today today(const PastShares& past, const WeighedPath& so_far,
            const std::vector<std::optional<double>>& ratio, std::size_t but) {
  Today out;
  out.off.resize(so_far.size());
  for (std::size_t place = 0; place < ratio.size(); ++place) {
    if (place == but || !ratio[place]) continue;
    const double around = level(so_far, ratio, place, so_far[place]->block);
    if (around <= 0) continue;
    out.off[place] = filled(*so_far[place]) / around - *past.share[place];
    out.of_entry[so_far[place]->entry].push_back(place);
  }
  return out;
}

double spread(const PastShares& past, const WeighedPath& so_far, const Today& known) {
  std::vector<double> errors;
  for (std::size_t place = 0; place < known.off.size(); ++place)
    if (known.off[place])
      errors.push_back(std::fabs(*known.off[place] - known.part(so_far[place]->entry, place)));
  const auto count = static_cast<double>(errors.size());
  if (errors.size() < kLeastErrors) return past.spread;
  return kNormalSpread * (1 + kUncertain / count) * median(std::move(errors));
}

}  // namespace

PastShares past_shares(std::span<const WeighedPath> earlier) {
  struct Told {
    double entry = 0;
    double residual = 0;
    int times = 0;
  };
  std::size_t places = 0;
  for (const WeighedPath& cutting : earlier) places = std::max(places, cutting.size());
  std::vector<Told> told(places);
  PastShares out;
  int cuttings = 0;
  int freedom = 0;
  for (const WeighedPath& cutting : earlier) {
    std::vector<WeighedPlot> plots;
    std::vector<std::size_t> at;
    for (std::size_t place = 0; place < cutting.size(); ++place) {
      if (!cutting[place]) continue;
      plots.push_back(*cutting[place]);
      plots.back().net = filled(plots.back());
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
  if (cuttings > 0) out.spread *= kOfToday / cuttings * (1 + kUncertain / std::max(1, freedom));
  for (const Told& each : told) {
    out.share.emplace_back();
    if (each.times == 0) continue;
    const double times = each.times;
    const double lasting = times * kLasting / (1 + (times - 1) * kLasting);
    out.share.back() = std::max(kLeastShare, 1 + (each.entry + lasting * each.residual) / times);
  }
  return out;
}

std::optional<ExpectedWeight> season_weight(const PastShares& past, const WeighedPath& so_far,
                                            std::size_t place, const WeighedPlot& next) {
  if (place >= past.share.size() || !past.share[place]) return std::nullopt;
  const auto ratio = ratios(past, so_far);
  const double around = level(so_far, ratio, place, next.block);
  if (around <= 0) return std::nullopt;
  const Today known = today(past, so_far, ratio, place);
  const double share = *past.share[place] + known.part(next.entry, place);
  const double middle = std::max(0.0, around * share * fullness(next));
  const double reach = std::max(kSpreads * spread(past, so_far, known) * around * fullness(next),
                                kLeastShare * middle);
  return ExpectedWeight{middle, std::max(0.0, middle - reach), middle + reach};
}

}  // namespace ligule::checks
