#include "app/flow/odd.h"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "storage/checks/median.h"

namespace ligule::flow {
namespace {

// So that robust z is a standard normal z where the numbers are normal: the 0.75 quantile of the
// normal distribution, and the square root of pi / 2.
constexpr double kNormalMad = 0.6745;
constexpr double kNormalMeanDeviation = 1.2533;

}  // namespace

std::vector<double> robust_z(std::span<const double> numbers) {
  const double middle = checks::median({numbers.begin(), numbers.end()});
  std::vector<double> away;
  away.reserve(numbers.size());
  for (const double number : numbers) away.push_back(std::abs(number - middle));
  const double mad = checks::median(away);
  double spread = mad / kNormalMad;
  if (mad == 0 && !away.empty()) {
    const double sum = std::accumulate(away.begin(), away.end(), 0.0);
    spread = kNormalMeanDeviation * sum / static_cast<double>(away.size());
  }
  std::vector<double> z;
  z.reserve(numbers.size());
  for (const double number : numbers) z.push_back(spread > 0 ? (number - middle) / spread : 0);
  return z;
}

std::vector<bool> odd_ones(std::span<const double> numbers) {
  std::vector<bool> odd(numbers.size(), false);
  if (numbers.size() < kLeastForOdd) return odd;
  const auto z = robust_z(numbers);
  for (std::size_t n = 0; n < z.size(); ++n) odd[n] = std::abs(z[n]) > kOddAbove;
  return odd;
}

}  // namespace ligule::flow
