#include "tests/bench/weight_rules.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "storage/checks/expected_weight.h"
#include "storage/checks/median.h"
#include "storage/checks/season_weight.h"

namespace ligule::bench {
namespace {

using checks::WeighedPlot;

constexpr std::size_t kNear = 9;  // plots whose level counts where a trend is known
constexpr std::size_t kLeastNear = 4;
constexpr double kLasting = 0.4;  // of a plot's error from one cutting to the next
constexpr double kOfCutting = 2;  // plots of a cutting that an entry's own part is worth
constexpr std::size_t kLeastErrors = 10;

// What a plot would have weighed with a full stand, as far as its rating tells.
double filled(const Season& season, std::size_t plot, double weight, bool stand) {
  return stand ? weight * 100 / season.plots[plot].stand : weight;
}

std::vector<WeighedPlot> weighed(const Season& season, const std::vector<double>& weights,
                                 std::size_t count, bool stand) {
  std::vector<WeighedPlot> out;
  out.reserve(count);
  for (std::size_t n = 0; n < count; ++n)
    out.push_back(
        {season.plots[n].block, season.plots[n].entry, filled(season, n, weights[n], stand)});
  return out;
}

// What each plot should give as a share of the mean, by the season's earlier cuttings: its entry,
// and that part of the plot's own residuals which lasts.
struct Earlier {
  std::vector<double> share;
  double spread = 0;  // of a plot about it, a share of the mean
};

Earlier earlier_shares(const Season& season, bool stand) {
  const std::size_t plots = season.plots.size();
  const auto cuttings = static_cast<double>(season.cuttings.size() - 1);
  Earlier out{std::vector<double>(plots, 1), 0};
  const double lasting = cuttings * kLasting / (1 + (cuttings - 1) * kLasting);
  for (std::size_t cutting = 0; cutting + 1 < season.cuttings.size(); ++cutting) {
    const auto fit =
        checks::fit_by_medians(weighed(season, season.cuttings[cutting], plots, stand));
    for (std::size_t n = 0; n < plots; ++n)
      out.share[n] += (fit.entries.at(season.plots[n].entry) + lasting * fit.residuals[n]) /
                      fit.overall / cuttings;
    out.spread += fit.spread / fit.overall / cuttings;
  }
  for (double& share : out.share) share = std::max(0.1, share);
  return out;
}

// Shares of the mean by this cutting alone, from the plots weighed so far: the entry's effect, the
// less of it the fewer plots tell. Empty for an entry that has not been weighed yet.
std::optional<double> share_so_far(const checks::AdditiveFit& fit, const std::string& entry) {
  const auto found = fit.entries.find(entry);
  if (found == fit.entries.end() || fit.overall <= 0) return std::nullopt;
  double keep = 1;
  if (fit.freedom >= checks::kLeastFreedom) {
    double squares = 0;
    double plots = 0;
    for (const auto& [name, effect] : fit.entries) {
      squares += effect * effect;
      plots += fit.plots_of_entry.at(name);
    }
    const auto entries = static_cast<double>(fit.entries.size());
    const double error = fit.spread * fit.spread;
    const double apart =
        std::max(0.2 * squares / entries, squares / entries - error * entries / plots);
    keep = apart / (apart + error / fit.plots_of_entry.at(entry));
  }
  return std::max(0.1, 1 + keep * found->second / fit.overall);
}

// What uncertain levels and entries add to the deviation.
double wider(std::size_t levels, double plots_of_entry, bool earlier) {
  const double by_entry =
      earlier ? 0.2 / (1 + plots_of_entry) : 1.2 / std::max(1.0, plots_of_entry);
  return std::sqrt(1 + by_entry + 1 / static_cast<double>(levels));
}

}  // namespace

Tells as_now(const Season& season, bool stand) {
  Tells tells;
  std::vector<WeighedPlot> so_far;
  for (std::size_t n = 0; n < season.plots.size(); ++n) {
    const Plot& plot = season.plots[n];
    WeighedPlot next{plot.block, plot.entry, season.cuttings.back()[n]};
    if (stand) next.stand = plot.stand;
    const auto expected = checks::expected_weight(so_far, next);
    tells.push_back(
        expected ? std::optional(Told{expected->middle,
                                      (expected->highest - expected->middle) / checks::kSpreads})
                 : std::nullopt);
    so_far.push_back(next);
  }
  return tells;
}

Tells by_truth(const Season& season) {
  Tells tells;
  for (std::size_t n = 0; n < season.truth.size(); ++n)
    tells.emplace_back(Told{season.truth[n], season.fresh[n]});
  return tells;
}

Tells by_season(const Season& season, bool stand) {
  const auto plot_of = [&](std::size_t cutting, std::size_t n) {
    WeighedPlot made{season.plots[n].block, season.plots[n].entry, season.cuttings[cutting][n]};
    if (stand) made.stand = season.plots[n].stand;
    return made;
  };
  const std::size_t last = season.cuttings.size() - 1;
  std::vector<checks::WeighedPath> earlier(last);
  for (std::size_t cutting = 0; cutting < last; ++cutting)
    for (std::size_t n = 0; n < season.plots.size(); ++n)
      earlier[cutting].emplace_back(plot_of(cutting, n));
  const checks::PastShares past = checks::past_shares(earlier);
  checks::WeighedPath so_far(season.plots.size());
  Tells tells;
  for (std::size_t n = 0; n < season.plots.size(); ++n) {
    const auto expected = checks::season_weight(past, so_far, n, plot_of(last, n));
    tells.push_back(
        expected ? std::optional(Told{expected->middle,
                                      (expected->highest - expected->middle) / checks::kSpreads})
                 : std::nullopt);
    so_far[n] = plot_of(last, n);
  }
  return tells;
}

Tells as_tablet(const Season& season) {
  Tells tells = as_now(season, true);
  if (season.cuttings.size() < 2) return tells;
  const Tells by_past = by_season(season, false);
  for (std::size_t n = 0; n < tells.size(); ++n)
    if (by_past[n]) tells[n] = by_past[n];
  return tells;
}

Tells by_level(const Season& season, const Knows& knows) {
  const std::vector<double>& weights = season.cuttings.back();
  const bool earlier = knows.earlier && season.cuttings.size() > 1;
  const Earlier before = earlier ? earlier_shares(season, knows.stand) : Earlier{};
  Tells tells;
  std::vector<double> errors;                           // of what was foretold, shares of the level
  std::map<std::string, std::vector<double>> of_entry;  // beside what earlier cuttings tell
  for (std::size_t n = 0; n < season.plots.size(); ++n) {
    const Plot& plot = season.plots[n];
    const auto so_far = weighed(season, weights, n, knows.stand);
    const auto fit = earlier ? checks::AdditiveFit{} : checks::fit_by_medians(so_far);
    const auto share_of = [&](std::size_t at) -> std::optional<double> {
      return earlier ? std::optional(before.share[at]) : share_so_far(fit, season.plots[at].entry);
    };
    // Of plots just weighed where a trend is known, of the block's where not.
    std::vector<double> levels;
    for (std::size_t at = n; at-- > 0 && (!knows.trend || levels.size() < kNear);)
      if (knows.trend || season.plots[at].block == plot.block)
        if (const auto share = share_of(at)) levels.push_back(so_far[at].net / *share);
    const auto share = share_of(n);
    std::optional<Told> told;
    double level = 0;
    if (share && levels.size() >= kLeastNear) {
      level = checks::median(levels);
      const std::vector<double>& own = of_entry[plot.entry];
      const auto count = static_cast<double>(own.size());
      const double of_cutting = earlier ? checks::median(own) * count / (count + kOfCutting) : 0;
      const double expected = level * (*share + of_cutting);
      const double wide = wider(levels.size(), count, earlier);
      const bool enough = errors.size() >= kLeastErrors;
      if (earlier || enough || fit.freedom >= checks::kLeastFreedom) {
        const double spread = enough ? checks::kNormalSpread * checks::median(errors)
                                     : (earlier ? before.spread : 1.2 * fit.spread / fit.overall);
        const double fill = knows.stand ? plot.stand / 100 : 1;
        told = Told{expected * fill, std::max(0.03, spread) * wide * level * fill};
      }
      const double own_weight = filled(season, n, weights[n], knows.stand);
      if (told) errors.push_back(std::fabs(own_weight - expected) / level / wide);
      of_entry[plot.entry].push_back(own_weight / level - *share);
    }
    tells.push_back(told);
  }
  return tells;
}

}  // namespace ligule::bench
