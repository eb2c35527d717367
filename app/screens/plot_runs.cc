#include "app/screens/plot_runs.h"

#include <cstdlib>
#include <optional>

#include "storage/trial/number.h"

namespace ligule::screens {
namespace {

// From one plot to the next: 1 or -1 where they follow each other.
std::optional<std::int64_t> step(const std::string& from, const std::string& to) {
  const auto first = parse_integer(from);
  const auto second = parse_integer(to);
  if (!first || !second || std::abs(*second - *first) != 1) return std::nullopt;
  return *second - *first;
}

}  // namespace

std::vector<std::string> plot_runs(std::span<const std::string> numbers) {
  constexpr std::size_t kLeast = 3;
  std::vector<std::string> runs;
  for (std::size_t from = 0; from < numbers.size();) {
    std::size_t end = from + 1;
    if (end < numbers.size()) {
      const auto way = step(numbers[from], numbers[end]);
      while (way && end < numbers.size() && step(numbers[end - 1], numbers[end]) == way) ++end;
    }
    if (end - from >= kLeast) {
      runs.push_back(numbers[from] + "\u2013" + numbers[end - 1]);
      from = end;
    } else {
      runs.push_back(numbers[from++]);
    }
  }
  return runs;
}

}  // namespace ligule::screens
