// Whether some raters of one rating gave more than others, beside what entries and blocks explain.
//
// value = entry + block + rater, by least squares. That can be told only where raters share blocks.
// A person who alone rated whole blocks can't be told from the ground of those blocks, whatever is
// computed: the effect is then of rater and blocks together, and is called so.
#pragma once

#include <cstddef>
#include <optional>
#include <span>
#include <vector>

namespace ligule::statistics {

struct Rated {
  std::size_t entry = 0;  // indices below the counts given
  std::size_t block = 0;
  std::size_t rater = 0;
  double value = 0.0;  // finite
};

struct RaterEffect {
  double effect = 0.0;                   // above the mean of all raters, in the unit of the values
  std::optional<double> standard_error;  // of it; empty with blocks in it, or without error df
};

struct RaterEffects {
  bool with_blocks = false;         // each effect is that of the rater and of the rater's blocks
  std::vector<RaterEffect> raters;  // one per index; they sum to 0
  double df_error = 0.0;
  std::optional<double> error_mean_square;  // empty with blocks in the effects
  // Whether raters differ at all, beside entries and blocks. Empty without an error mean square.
  std::optional<double> f;
  std::optional<double> p;
};
// With blocks in them the effects are fitted without blocks, and nothing says how sure they are:
// plots of a block are no independent looks at its rater. Empty below two raters, where one has no
// value, and where raters share neither blocks nor entries.
[[nodiscard]] std::optional<RaterEffects> rater_effects(std::span<const Rated> values,
                                                        std::size_t entries, std::size_t blocks,
                                                        std::size_t raters);

// Two people who rated the same plots: by how much the second lies above the first in each block.
struct RatedAgain {
  std::size_t block = 0;
  double difference = 0.0;  // second less first
};

struct BlockDifference {
  std::size_t pairs = 0;                 // 0 leaves the rest empty
  std::optional<double> mean;            // of the differences
  std::optional<double> standard_error;  // from the spread within blocks
};

struct Drift {
  std::vector<BlockDifference> blocks;  // one per index
  // Whether the difference is another in some blocks: someone's eye changed on the way. Empty where
  // fewer than two blocks have pairs, or none has two that differ.
  std::optional<double> f;
  std::optional<double> p;
};
// A one-way analysis of the differences. Empty where no block has a pair.
[[nodiscard]] std::optional<Drift> drift(std::span<const RatedAgain> pairs, std::size_t blocks);

}  // namespace ligule::statistics
