#include "storage/checks/exchanged.h"

#include <algorithm>
#include <cmath>

namespace ligule::checks {
namespace {

constexpr double kLeastApart = 0.2;  // of the heavier

constexpr double kAnother = 0.05;  // of a weight: as much more or less is another weight

// Natural logarithm of how many times as likely an exchange must be.
constexpr double kLeastEvidence = 5;

double reach(const ExpectedWeight& expected) {
  return expected.highest - expected.middle;
}

bool inside(const ExpectedWeight& expected, double net) {
  return std::fabs(net - expected.middle) <= reach(expected);
}

// All of them but the two neighbours of whom the first is given.
std::vector<WeighedPlot> without(const WeighedPath& weighed, std::size_t first) {
  std::vector<WeighedPlot> others;
  for (std::size_t place = 0; place < weighed.size(); ++place)
    if (weighed[place] && place != first && place != first + 1) others.push_back(*weighed[place]);
  return others;
}

}  // namespace

bool is_still_apart(double then, double now) {
  return std::fabs(now - then) <= kAnother * then;
}

std::vector<std::size_t> neighbours_apart(const WeighedPath& weighed) {
  std::vector<std::size_t> pairs;
  for (std::size_t first = 0; first + 1 < weighed.size(); ++first) {
    const std::optional<WeighedPlot>& a = weighed[first];
    const std::optional<WeighedPlot>& b = weighed[first + 1];
    if (a && b && std::fabs(a->net - b->net) >= kLeastApart * std::max(a->net, b->net))
      pairs.push_back(first);
  }
  return pairs;
}

bool probably_exchanged(const WeighedPath& weighed, std::size_t first) {
  const std::optional<WeighedPlot>& one = weighed[first];
  const std::optional<WeighedPlot>& other = weighed[first + 1];
  if (!one || !other) return false;
  const WeighedPlot& a = *one;
  const WeighedPlot& b = *other;
  const std::vector<WeighedPlot> others = without(weighed, first);
  const AdditiveFit fit = fit_by_medians(others);
  const auto for_a = expected_weight(fit, others, a);
  const auto for_b = expected_weight(fit, others, b);
  if (!for_a || !for_b || !inside(*for_a, b.net) || !inside(*for_b, a.net)) return false;
  // Half the difference of the two sums of squares, each in standard deviations, multiplied out.
  const double variance = reach(*for_a) * reach(*for_b) / (kSpreads * kSpreads);
  return (a.net - b.net) * (for_b->middle - for_a->middle) >= kLeastEvidence * variance;
}

void drop_unlikely(const WeighedPath& weighed, std::vector<std::size_t>& pairs) {
  const std::vector<WeighedPlot> all = without(weighed, weighed.size());
  const AdditiveFit fit = fit_by_medians(all);
  // The heavier plot too heavy and the lighter one too light by at least half of what they are
  // apart, because two bad weights move medians by half at most.
  std::erase_if(pairs, [&](std::size_t first) {
    const std::optional<WeighedPlot>& one = weighed[first];
    const std::optional<WeighedPlot>& other = weighed[first + 1];
    if (!one || !other) return true;
    const WeighedPlot& a = *one;
    const WeighedPlot& b = *other;
    const auto for_a = expected_weight(fit, all, a);
    const auto for_b = expected_weight(fit, all, b);
    if (!for_a || !for_b) return true;
    const double apart = a.net - b.net;
    const double off = (a.net - for_a->middle) - (b.net - for_b->middle);
    return off / apart < 0.5;
  });
}

}  // namespace ligule::checks
