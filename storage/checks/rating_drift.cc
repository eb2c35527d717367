#include "storage/checks/rating_drift.h"

#include <map>
#include <utility>

#include "storage/checks/chance.h"

namespace ligule::checks {
namespace {

constexpr std::size_t kLeastPairs = 4;
constexpr int kOrders = 999;
constexpr std::uint64_t kSeed = 0x4C69'6775'6C65;

// How far the blocks' means lie apart: the sum of squares between them, but for what every order of
// the differences has alike.
double apart(std::span<const double> differences, std::span<const BlockOffset> blocks) {
  double squares = 0;
  std::size_t at = 0;
  for (const BlockOffset& block : blocks) {
    double sum = 0;
    for (const double difference : differences.subspan(at, block.pairs)) sum += difference;
    squares += sum * sum / static_cast<double>(block.pairs);
    at += block.pairs;
  }
  return squares;
}

}  // namespace

std::optional<RatingDrift> rating_drift(std::span<const RatedInBlock> pairs) {
  std::map<int, std::vector<double>> by_block;
  for (const RatedInBlock& pair : pairs)
    by_block[pair.block].push_back(pair.rated.given - pair.rated.held_against);
  RatingDrift drift;
  std::vector<double> differences;
  double squares = 0;
  for (const auto& [block, of_block] : by_block) {
    if (of_block.size() < kLeastPairs) continue;
    double sum = 0;
    for (const double difference : of_block) {
      sum += difference;
      squares += difference * difference;
    }
    drift.blocks.push_back({block, sum / static_cast<double>(of_block.size()), of_block.size()});
    differences.insert(differences.end(), of_block.begin(), of_block.end());
  }
  if (drift.blocks.size() < 2) return std::nullopt;
  // Sums of the same numbers in another order differ in their last digits: those count as alike.
  const double seen = apart(differences, drift.blocks) - 1e-9 * squares;
  Chance chance(kSeed);
  int as_far = 1;
  for (int order = 0; order < kOrders; ++order) {
    for (std::size_t left = differences.size(); left > 1; --left)
      std::swap(differences[left - 1], differences[chance.below(left)]);
    as_far += apart(differences, drift.blocks) >= seen ? 1 : 0;
  }
  drift.chance = as_far / static_cast<double>(kOrders + 1);
  return drift;
}

}  // namespace ligule::checks
