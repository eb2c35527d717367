#include "sync/results/ratings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/as_sown.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

using ::testing::HasSubstr;

class Ratings : public ::testing::Test {
 protected:
  Ratings() {
    add_scale("stand", "percent_stand", ScaleKind::kPercent, Direction::kHighIsBest);
    add_scale("height", "stubble_height", ScaleKind::kLength, Direction::kNone);
    trial_.facts().scales["height"].units = {"in", "cm"};
    add_scale("injury", "winter_injury", ScaleKind::kScore, Direction::kLowIsBest);
    add_scale("words", "note", ScaleKind::kText, Direction::kNone);
  }
  void add_scale(const std::string& digest, const std::string& code, ScaleKind kind,
                 Direction direction) {
    Scale& scale = trial_.facts().scales[digest];
    scale.code = code;
    scale.kind = kind;
    scale.direction = direction;
  }
  Record& rate(const std::string& plot, const std::string& measure, double value,
               const std::string& digest, const std::string& unit = {}) {
    Record& record = trial_.reading(trial_.plot(plot), measure, "spring", value, unit);
    record.definition = digest;
    return record;
  }
  const MeasureValues& only(const TrialRatings& ratings) {
    EXPECT_EQ(ratings.measures.size(), 1U);
    return ratings.measures.front();
  }

  WeighedTrial trial_;
};

TEST_F(Ratings, EveryPlotOfAPassHasARow) {
  rate("101", "percent_stand", 90, "stand");
  rate("202", "percent_stand", 70, "stand");
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  const MeasureValues& stand = only(ratings);
  EXPECT_EQ(stand.measure, "percent_stand");
  EXPECT_EQ(stand.direction, Direction::kHighIsBest);
  ASSERT_EQ(stand.values.size(), 4U);
  EXPECT_EQ(stand.values[0].cutting, "spring");
  EXPECT_EQ(stand.values[0].year, 2026);
  EXPECT_EQ(stand.values[0].value, 90.0);
  EXPECT_FALSE(stand.values[1].value);
}

TEST_F(Ratings, SeveralReadingsOfAPlotAreAveragedInTheScalesFirstUnit) {
  rate("101", "stubble_height", 3.0, "height", "in");
  rate("101", "stubble_height", 2.54 * 5.0, "height", "cm").part = 2;
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  EXPECT_EQ(only(ratings).unit, "in");
  EXPECT_NEAR(*only(ratings).values.front().value, 4.0, 1e-12);
}

TEST_F(Ratings, WeightsAndWordsAreNoRatings) {
  trial_.weigh_all("cut-1");
  rate("101", "note", 0, "words").value.reset();
  EXPECT_TRUE(ratings_of(trial_.facts(), "T").measures.empty());
}

TEST_F(Ratings, NothingThereIsZeroAndMissingIsMissing) {
  rate("101", "percent_stand", 1, "stand").state = ValueState::kZero;
  rate("102", "percent_stand", 1, "stand").state = ValueState::kMissing;
  rate("202", "percent_stand", 1, "stand").state = ValueState::kLater;
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  EXPECT_EQ(only(ratings).values[0].value, 0.0);
  EXPECT_FALSE(only(ratings).values[1].value);
  EXPECT_FALSE(only(ratings).values[2].value);
  EXPECT_TRUE(ratings.left_out.empty());
}

TEST_F(Ratings, ConflictsAreLeftOutAndNamed) {
  rate("101", "percent_stand", 90, "stand");
  rate("102", "percent_stand", 80, "stand");
  trial_.claim(trial_.plot("102"), "percent_stand").others = 1;
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  EXPECT_FALSE(only(ratings).values[1].value);
  ASSERT_EQ(ratings.left_out.size(), 1U);
  EXPECT_EQ(one_line(ratings.left_out.front()),
            "T spring plot 102: percent_stand: the value stands in conflict (correct or settle "
            "it)");
}

TEST_F(Ratings, AUnitTheScaleDoesNotHaveIsNamed) {
  rate("101", "stubble_height", 3.0, "height", "ell");
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  EXPECT_FALSE(only(ratings).values.front().value);
  EXPECT_EQ(ratings.left_out.size(), 1U);
}

TEST_F(Ratings, TwoScalesInOnePassAreNotMixed) {
  rate("101", "percent_stand", 90, "stand");
  rate("102", "percent_stand", 2, "injury");
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  EXPECT_TRUE(ratings.measures.empty());
  ASSERT_EQ(ratings.left_out.size(), 1U);
  EXPECT_THAT(ratings.left_out.front().what, HasSubstr("two scales"));
}

TEST_F(Ratings, PassesThePlanDroppedAreNamed) {
  rate("101", "percent_stand", 90, "stand");
  trial_.facts().plan.occasions.pop_back();
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  EXPECT_TRUE(ratings.measures.empty());
  EXPECT_EQ(ratings.left_out.size(), 1U);
}

TEST_F(Ratings, PlotsOutOfResultsHaveNoRow) {
  rate("101", "percent_stand", 90, "stand");
  trial_.as_sown("101", AsSownStatus::kAbandoned, WeighedTrial::day(5, 1));
  EXPECT_EQ(only(ratings_of(trial_.facts(), "T")).values.size(), 3U);
}

}  // namespace
}  // namespace ligule::results
