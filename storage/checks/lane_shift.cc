#include "storage/checks/lane_shift.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <vector>

#include "storage/checks/expected_weight.h"

namespace ligule::checks {
namespace {

constexpr std::size_t kLeastValues = 12;
constexpr int kRounds = 3;
// What it counts that the place which the run would move onto has no value: else a plot would have
// two, which happens less often (20 times: a guess, no source).
constexpr double kRoom = 3;
// What a single value can say at most, for or against: one wild weight or two exchanged ones are no
// run, and none hides one.
constexpr double kMostGain = 3;
// A value further off its block than this many standard deviations counts as if it lay there.
constexpr double kWild = 2.5;
// Plots never follow their entries more closely than this, over how far all plots lie apart:
// ratings in steps of five would else look like no error at all.
constexpr double kLeastError = 0.2;
// The standard deviation of a normal over the mean of the smallest four fifths of what lies about
// it.
constexpr double kSmall = 0.8;
constexpr double kOfSmall = 1.79;
// A spread from few differences is itself uncertain: it is taken for somewhat larger.
constexpr double kShiftUncertain = 4;

// How far plots lie apart about their blocks: by their entries and for no reason.
struct Spread {
  double entries = 0;  // variances
  double error = 0;
};

// Values without their blocks. Entries are numbered from 0.
struct Lane {
  std::vector<std::size_t> entry;
  std::vector<double> block;  // effect
  std::vector<std::optional<double>> value;
  std::size_t entries = 0;
  Spread spread;
};

double standard_deviation(std::vector<double> off) {
  std::ranges::sort(off);
  const auto small = static_cast<std::size_t>(kSmall * static_cast<double>(off.size()));
  double sum = 0;
  for (std::size_t n = 0; n < small; ++n) sum += off[n];
  return small == 0 ? 0 : kOfSmall * sum / static_cast<double>(small);
}

// The place whose plot the value at `place` belongs to, were the run moved.
std::size_t home(const std::optional<LaneShift>& moved, std::size_t place) {
  if (!moved || place < moved->first || place > moved->last) return place;
  return moved->entered == Entered::kTooEarly ? place + 1 : place - 1;
}

// Blocks and spread are those of the values with the run moved: as they stand a shift makes plots
// of one entry lie further apart than they do.
// Of plots of one entry, from all their differences.
double error_of(std::span<const WeighedPlot> plots, const AdditiveFit& fit) {
  std::map<std::string, std::vector<double>> entries;
  for (std::size_t n = 0; n < plots.size(); ++n)
    entries[plots[n].entry].push_back(fit.residuals[n]);
  std::vector<double> apart;
  for (const auto& [entry, residuals] : entries)
    for (std::size_t one = 0; one < residuals.size(); ++one)
      for (std::size_t other = 0; other < one; ++other)
        apart.push_back(std::fabs(residuals[one] - residuals[other]));
  return standard_deviation(std::move(apart)) / std::numbers::sqrt2;
}

Lane lane_of(std::span<const LanePlot> path, const std::optional<LaneShift>& moved) {
  std::vector<WeighedPlot> plots;
  for (std::size_t place = 0; place < path.size(); ++place) {
    const std::optional<double>& value = path[place].value;
    const LanePlot& plot = path[home(moved, place)];
    if (value) plots.push_back({plot.block, plot.entry, *value});
  }
  const AdditiveFit fit = fit_by_medians(plots);
  if (fit.freedom < kLeastFreedom) return {};
  std::vector<double> off;
  off.reserve(plots.size());
  for (std::size_t n = 0; n < plots.size(); ++n)
    off.push_back(std::fabs(fit.residuals[n] + fit.entries.at(plots[n].entry)));
  const double all = standard_deviation(std::move(off));
  const double error = std::clamp(error_of(plots, fit) * (1 + kShiftUncertain / fit.freedom),
                                  kLeastError * all, all);

  Lane lane;
  lane.spread = {all * all - error * error, error * error};
  std::map<std::string, std::size_t> numbers;
  for (const LanePlot& plot : path) {
    lane.entry.push_back(numbers.try_emplace(plot.entry, numbers.size()).first->second);
    const auto block = fit.blocks.find(plot.block);
    lane.block.push_back(fit.overall + (block == fit.blocks.end() ? 0 : block->second));
    lane.value.push_back(plot.value);
  }
  lane.entries = numbers.size();
  return lane;
}

// What is known of one entry: how many values and their sum.
struct Sum {
  std::size_t values = 0;
  double sum = 0;
};

// Natural logarithm of how likely the values of an entry are, by their number and sum, but for
// their sum of squares, which moving leaves as it is: share x sum^2 - constant. Entries are normal
// about 0, values normal about their entry (a mixed model with known variances).
struct Likelihood {
  double share = 0;
  double constant = 0;
};

std::vector<Likelihood> likelihoods(const Spread& spread, std::size_t most) {
  const double ratio = spread.entries / spread.error;
  std::vector<Likelihood> by_number;
  for (std::size_t values = 0; values <= most; ++values) {
    const double total = 1 + static_cast<double>(values) * ratio;
    by_number.push_back({ratio / total / spread.error / 2, std::log(total) / 2});
  }
  return by_number;
}

class Search {
 public:
  explicit Search(const Lane& lane)
      : lane_(lane),
        standing_(lane.entries),
        likelihoods_(likelihoods(lane.spread, lane.value.size())) {
    limit_ = kWild * std::sqrt(lane.spread.entries + lane.spread.error);
    for (std::size_t place = 0; place < lane.value.size(); ++place)
      if (const std::optional<double>& value = lane.value[place]) {
        Sum& sum = standing_[lane.entry[place]];
        ++sum.values;
        sum.sum += off(*value, place);
      }
  }

  // Every run from `first` on, one place longer each time.
  void runs_from(std::size_t first, Entered entered, std::optional<LaneShift>& best) const {
    std::vector<Sum> moved = standing_;
    double evidence = 0;
    const std::size_t places = lane_.value.size();
    const bool early = entered == Entered::kTooEarly;
    if (!early && first == 0) return;
    for (std::size_t last = first; last < places && (!early || last + 1 < places); ++last) {
      if (const std::optional<double>& value = lane_.value[last])
        evidence += std::clamp(move(*value, last, early ? last + 1 : last - 1, moved), -kMostGain,
                               kMostGain);
      if (last - first + 1 < kShortestShift) continue;
      const bool room = !lane_.value[early ? last + 1 : first - 1];
      const double all = evidence + (room ? kRoom : 0);
      if (all > (best ? best->evidence : 0)) best = LaneShift{first, last, entered, all};
    }
  }

 private:
  // A value were it of the plot at `home`.
  [[nodiscard]] double off(double value, std::size_t home) const {
    return std::clamp(value - lane_.block[home], -limit_, limit_);
  }

  [[nodiscard]] double likelihood(const Sum& of) const {
    const Likelihood& by = likelihoods_[of.values];
    return by.share * of.sum * of.sum - by.constant;
  }

  // What it gains to count the value at `place` to the plot at `home`.
  [[nodiscard]] double move(double value, std::size_t place, std::size_t home,
                            std::vector<Sum>& sums) const {
    const double as_is = off(value, place);
    const double there = off(value, home);
    Sum& from = sums[lane_.entry[place]];
    Sum& to = sums[lane_.entry[home]];
    if (&from == &to) return 0;
    const double before = likelihood(from) + likelihood(to);
    --from.values;
    from.sum -= as_is;
    ++to.values;
    to.sum += there;
    return likelihood(from) + likelihood(to) - before +
           (as_is * as_is - there * there) / (2 * lane_.spread.error);
  }

  const Lane& lane_;
  std::vector<Sum> standing_;
  std::vector<Likelihood> likelihoods_;
  double limit_ = 0;
};

std::optional<LaneShift> best_run(const Lane& lane) {
  if (!(lane.spread.entries > 0)) return std::nullopt;
  const Search search(lane);
  std::optional<LaneShift> best;
  for (std::size_t first = 0; first < lane.value.size(); ++first)
    for (const Entered entered : {Entered::kTooEarly, Entered::kTooLate})
      search.runs_from(first, entered, best);
  return best;
}

}  // namespace

std::optional<LaneShift> likeliest_lane_shift(std::span<const LanePlot> path) {
  const auto values =
      std::ranges::count_if(path, [](const LanePlot& plot) { return plot.value.has_value(); });
  if (values < static_cast<std::ptrdiff_t>(kLeastValues)) return std::nullopt;
  std::optional<LaneShift> best;
  for (int round = 0; round < kRounds; ++round) {
    const auto found = best_run(lane_of(path, best));
    if (!found || (best && found->evidence <= best->evidence)) break;
    best = found;
  }
  return best;
}

std::optional<LaneShift> lane_shift(std::span<const LanePlot> path) {
  auto found = likeliest_lane_shift(path);
  if (found && found->evidence < kLeastShiftEvidence) return std::nullopt;
  return found;
}

}  // namespace ligule::checks
