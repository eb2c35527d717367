// How many blocks the next test needs, from the error of those that were.
//
// A test of t treatments in b complete blocks has (b - 1)(t - 1) degrees of freedom for error; its
// least significant difference is T * sqrt(2 MSE / b). The error mean square is taken for known:
// the next test's own will be smaller or larger.
//
// What can't be had is empty and nothing is ever NaN: an error mean square or a difference that is
// not above 0 and finite, below two treatments or blocks, alpha or a chance outside 0 to 1.
#pragma once

#include <cstddef>
#include <optional>
#include <span>

namespace ligule::statistics {

// No more blocks are looked at: nobody sows them.
inline constexpr std::size_t kMostBlocks = 200;

struct ErrorMeanSquare {
  double value = 0.0;
  double df = 0.0;
};

// The mean weighted by df, of those with both above 0; df is their sum. Empty without one.
[[nodiscard]] std::optional<ErrorMeanSquare> pooled(std::span<const ErrorMeanSquare> errors);

// Two-sided at `alpha`, in the unit of the root of the mean square.
[[nodiscard]] std::optional<double> expected_difference(double mean_square, std::size_t treatments,
                                                        std::size_t blocks, double alpha);

// The smallest number of blocks, 2 to kMostBlocks, whose least significant difference is at most
// `wished`. Empty where even kMostBlocks do not reach it.
[[nodiscard]] std::optional<std::size_t> blocks_for_difference(double mean_square,
                                                               std::size_t treatments, double alpha,
                                                               double wished);

// How often two means that truly differ by `difference` are further apart than the least
// significant difference, either way round: 0 to 1, by the noncentral t.
[[nodiscard]] std::optional<double> chance_to_find(double difference, double mean_square,
                                                   std::size_t treatments, std::size_t blocks,
                                                   double alpha);

// The smallest number of blocks, 2 to kMostBlocks, with at least this chance to find `difference`.
[[nodiscard]] std::optional<std::size_t> blocks_to_find(double difference, double mean_square,
                                                        std::size_t treatments, double alpha,
                                                        double chance);

}  // namespace ligule::statistics
