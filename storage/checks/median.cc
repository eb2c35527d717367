#include "storage/checks/median.h"

#include <algorithm>

namespace ligule::checks {

double median(std::vector<double> numbers) {
  return median_in(numbers);
}

double median_in(std::span<double> numbers) {
  if (numbers.empty()) return 0;
  std::ranges::sort(numbers);
  const std::size_t middle = numbers.size() / 2;
  return numbers.size() % 2 == 1 ? numbers[middle] : (numbers[middle - 1] + numbers[middle]) / 2;
}

}  // namespace ligule::checks
