#include "storage/checks/median.h"

#include <algorithm>

namespace ligule::checks {

double median(std::vector<double> numbers) {
  return median_in(numbers);
}

double median_in(std::span<double> numbers) {
  if (numbers.empty()) return 0;
  const auto middle = numbers.begin() + static_cast<std::ptrdiff_t>(numbers.size() / 2);
  std::ranges::nth_element(numbers, middle);
  if (numbers.size() % 2 == 1) return *middle;
  return (*std::max_element(numbers.begin(), middle) + *middle) / 2;
}

}  // namespace ligule::checks
