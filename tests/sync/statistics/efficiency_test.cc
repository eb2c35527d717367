#include "sync/statistics/efficiency.h"

#include <gtest/gtest.h>

#include <algorithm>
#include <random>

namespace ligule::statistics {
namespace {

struct Fitted {
  CrossedData data;
  CrossedFit fit;
};

// Blocks of `treatments` plots each, that many apart; a quarter of the plots may be gone.
Fitted blocks(std::size_t treatments, std::size_t count, double apart, bool gaps, unsigned seed) {
  std::mt19937 random(seed);
  std::normal_distribution<double> error(0.0, 1.0);
  Fitted out;
  out.data.treatments = treatments;
  out.data.terms.resize(1);
  for (std::size_t block = 0; block < count; ++block) {
    const double level = apart * error(random);
    for (std::size_t treatment = 0; treatment < treatments; ++treatment) {
      const double value = level + error(random);
      if (gaps && (3 * block + treatment) % 4 == 0) continue;
      out.data.treatment.push_back(treatment);
      out.data.value.push_back(value);
      out.data.terms[0].levels.push_back(block);
    }
  }
  out.fit = fit_crossed(out.data);
  return out;
}

TEST(Efficiency, CompleteBlocksGiveTheBooksFormula) {
  const Fitted made = blocks(6, 4, 1.0, false, 3);
  const double msb = *made.fit.fit.block->mean_square;
  const double mse = *made.fit.fit.error_mean_square;
  const auto got = efficiency_over(made.data, made.fit, {true});
  ASSERT_TRUE(got);
  EXPECT_NEAR(got->plain, (3.0 * msb + 20.0 * mse) / (23.0 * mse), 1e-12);
  EXPECT_NEAR(got->corrected, got->plain * (16.0 * 21.0) / (18.0 * 19.0), 1e-12);
}

TEST(Efficiency, ACompleteSquareGivesTheBooksFormulas) {
  std::mt19937 random(4);
  CrossedData data;
  data.treatments = 5;
  data.terms.resize(2);
  for (std::size_t row = 0; row < 5; ++row) {
    for (std::size_t column = 0; column < 5; ++column) {
      data.treatment.push_back((row + 2 * column) % 5);
      data.value.push_back(static_cast<double>(row + random() % 16));
      data.terms[0].levels.push_back(row);
      data.terms[1].levels.push_back(column);
    }
  }
  const CrossedFit fit = fit_crossed(data);
  const double rows = *fit.terms[0].adjusted.mean_square;
  const double columns = *fit.terms[1].adjusted.mean_square;
  const double mse = *fit.fit.error_mean_square;
  const auto over_none = efficiency_over(data, fit, {true, true});
  EXPECT_NEAR(over_none->plain, (rows + columns + 4.0 * mse) / (6.0 * mse), 1e-12);
  EXPECT_NEAR(over_none->corrected, over_none->plain * (13.0 * 23.0) / (15.0 * 21.0), 1e-12);
  const auto over_columns = efficiency_over(data, fit, {true, false});
  EXPECT_NEAR(over_columns->plain, (rows + 4.0 * mse) / (5.0 * mse), 1e-12);
  EXPECT_NEAR(over_columns->corrected, over_columns->plain * (13.0 * 19.0) / (15.0 * 17.0), 1e-12);
  const auto over_rows = efficiency_over(data, fit, {false, true});
  EXPECT_NEAR(over_rows->plain, (columns + 4.0 * mse) / (5.0 * mse), 1e-12);
}

// Where plots are missing there is no book; the mean over many draws of what the lesser design's
// error would be must meet the variances that were drawn from: 1 within blocks, 4 among.
TEST(Efficiency, WithMissingPlotsItAimsAtTheVarianceThatWasDrawn) {
  double other = 0.0;
  double wanted = 0.0;
  constexpr int kDraws = 4000;
  for (unsigned draw = 0; draw < kDraws; ++draw) {
    const Fitted made = blocks(5, 6, 2.0, true, draw);
    const auto got = efficiency_over(made.data, made.fit, {true});
    ASSERT_TRUE(got);
    other += got->plain * *made.fit.fit.error_mean_square / kDraws;
    const auto n = static_cast<double>(made.data.value.size());
    double same = 0.0;
    for (std::size_t block = 0; block < 6; ++block) {
      const auto size = static_cast<double>(std::ranges::count(made.data.terms[0].levels, block));
      same += size * (size - 1.0) / (n * (n - 1.0));
    }
    wanted = 1.0 + 4.0 * (1.0 - same);
  }
  EXPECT_NEAR(other, wanted, 0.1 * wanted);
}

TEST(Efficiency, EmptyWhereThereIsNothingToCompare) {
  Fitted made = blocks(6, 1, 1.0, false, 1);
  EXPECT_FALSE(efficiency_over(made.data, made.fit, {true})) << "one block, no error";
  made = blocks(4, 3, 1.0, false, 1);
  for (std::size_t i = 0; i < made.data.value.size(); ++i)
    made.data.value[i] = static_cast<double>(made.data.treatment[i]);
  made.fit = fit_crossed(made.data);
  EXPECT_EQ(*made.fit.fit.error_mean_square, 0.0);
  EXPECT_FALSE(efficiency_over(made.data, made.fit, {true})) << "no error at all";
  made = blocks(4, 3, 1.0, false, 1);
  for (std::size_t& level : made.data.terms[0].levels) level = 0;
  made.fit = fit_crossed(made.data);
  EXPECT_FALSE(efficiency_over(made.data, made.fit, {true})) << "blocks that are one";
}

Fit in_blocks_of(const Fitted& made, std::size_t treatments, std::size_t count) {
  std::vector<Observation> observations;
  for (std::size_t i = 0; i < made.data.value.size(); ++i)
    observations.push_back(
        {made.data.treatment[i], made.data.terms[0].levels[i], made.data.value[i]});
  return fit_in_blocks(observations, treatments, count);
}

TEST(Efficiency, TheShortWayForCompleteBlocksGivesTheSame) {
  const Fitted made = blocks(6, 4, 1.0, false, 3);
  const auto shorter = efficiency_of_complete_blocks(in_blocks_of(made, 6, 4));
  const auto whole = efficiency_over(made.data, made.fit, {true});
  ASSERT_TRUE(shorter && whole);
  EXPECT_NEAR(shorter->plain, whole->plain, 1e-10);
  EXPECT_NEAR(shorter->corrected, whole->corrected, 1e-10);
}

TEST(Efficiency, TheShortWayIsForCompleteBlocksOnly) {
  const Fitted gaps = blocks(6, 4, 1.0, true, 3);
  EXPECT_FALSE(efficiency_of_complete_blocks(in_blocks_of(gaps, 6, 4)));
  Fitted twice = blocks(6, 4, 1.0, false, 3);  // a check stands twice in a block, another not
  twice.data.treatment[0] = 1;
  EXPECT_FALSE(efficiency_of_complete_blocks(in_blocks_of(twice, 6, 4)));
  Fitted flat = blocks(6, 4, 1.0, false, 3);
  for (double& value : flat.data.value) value = 2.0;
  EXPECT_FALSE(efficiency_of_complete_blocks(in_blocks_of(flat, 6, 4)));
}

}  // namespace
}  // namespace ligule::statistics
