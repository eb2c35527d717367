#include "sync/statistics/blocks_needed.h"

#include <algorithm>
#include <cmath>
#include <ranges>

#include "sync/statistics/distributions.h"
#include "sync/statistics/rounding.h"

namespace ligule::statistics {
namespace {

bool above_zero(double number) {
  return number > 0.0 && std::isfinite(number);
}

bool can_be_planned(double mean_square, std::size_t treatments, std::size_t blocks) {
  return above_zero(mean_square) && treatments >= 2 && blocks >= 2;
}

double planned_df(std::size_t treatments, std::size_t blocks) {
  return static_cast<double>(treatments - 1) * static_cast<double>(blocks - 1);
}

double planned_error(double mean_square, std::size_t blocks) {
  return std::sqrt(2.0 * mean_square / static_cast<double>(blocks));
}

// The first number of blocks that is enough; what is enough stays so with more.
template <class Enough>
std::optional<std::size_t> fewest_blocks(Enough enough) {
  const auto all = std::views::iota(std::size_t{2}, kMostBlocks + 1);
  const auto first =
      std::ranges::partition_point(all, [&](std::size_t blocks) { return !enough(blocks); });
  if (first == all.end()) return std::nullopt;
  return *first;
}

}  // namespace

std::optional<ErrorMeanSquare> pooled(std::span<const ErrorMeanSquare> errors) {
  ErrorMeanSquare sum;
  for (const ErrorMeanSquare& error : errors) {
    if (!above_zero(error.value) || !above_zero(error.df)) continue;
    sum.value += error.df * error.value;
    sum.df += error.df;
  }
  if (!(sum.df > 0.0) || !std::isfinite(sum.value / sum.df)) return std::nullopt;
  return ErrorMeanSquare{sum.value / sum.df, sum.df};
}

std::optional<double> expected_difference(double mean_square, std::size_t treatments,
                                          std::size_t blocks, double alpha) {
  if (!can_be_planned(mean_square, treatments, blocks)) return std::nullopt;
  const auto t = t_two_sided_quantile(alpha, planned_df(treatments, blocks));
  if (!t) return std::nullopt;
  return finite(*t * planned_error(mean_square, blocks));
}

std::optional<std::size_t> blocks_for_difference(double mean_square, std::size_t treatments,
                                                 double alpha, double wished) {
  if (!above_zero(wished)) return std::nullopt;
  return fewest_blocks([&](std::size_t blocks) {
    const auto lsd = expected_difference(mean_square, treatments, blocks, alpha);
    return lsd && *lsd <= wished;
  });
}

std::optional<double> chance_to_find(double difference, double mean_square, std::size_t treatments,
                                     std::size_t blocks, double alpha) {
  if (!above_zero(difference) || !can_be_planned(mean_square, treatments, blocks)) {
    return std::nullopt;
  }
  const double df = planned_df(treatments, blocks);
  const auto t = t_two_sided_quantile(alpha, df);
  if (!t) return std::nullopt;
  const auto chance =
      noncentral_t_two_sided_tail(*t, df, difference / planned_error(mean_square, blocks));
  if (!chance) return std::nullopt;
  return std::clamp(*chance, 0.0, 1.0);
}

std::optional<std::size_t> blocks_to_find(double difference, double mean_square,
                                          std::size_t treatments, double alpha, double chance) {
  if (!(chance > 0.0) || !(chance < 1.0)) return std::nullopt;
  return fewest_blocks([&](std::size_t blocks) {
    const auto reached = chance_to_find(difference, mean_square, treatments, blocks, alpha);
    return reached && *reached >= chance;
  });
}

}  // namespace ligule::statistics
