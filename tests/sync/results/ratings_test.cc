#include "sync/results/ratings.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "storage/trial/as_sown.h"
#include "tests/sync/results/weighed_trial.h"

namespace ligule::results {
namespace {

using ::testing::HasSubstr;
using ::testing::StartsWith;

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
  EXPECT_EQ(stand.values[1].place, (PlotPlace{1, 2}));
  EXPECT_EQ(stand.values[2].place, (PlotPlace{2, 2})) << "along the path, plot 202";
}

TEST_F(Ratings, SharesAndLengthsBearPercentsScoresDoNot) {
  rate("101", "percent_stand", 90, "stand");
  rate("101", "stubble_height", 4, "height", "in");
  rate("101", "winter_injury", 2, "injury");
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  ASSERT_EQ(ratings.measures.size(), 3U);
  for (const MeasureValues& of : ratings.measures)
    EXPECT_EQ(of.ratio, of.measure != "winter_injury") << of.measure;
}

TEST_F(Ratings, APassThatIsNotForAnEntryHasNoRowsOfIt) {
  trial_.facts().plan.occasions[2].entries = {"B"};
  rate("102", "percent_stand", 90, "stand");
  rate("101", "percent_stand", 80, "stand");  // was rated all the same
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  const MeasureValues& stand = only(ratings);
  ASSERT_EQ(stand.values.size(), 3U);
  EXPECT_EQ(stand.values[0].plot, "101");
  EXPECT_EQ(stand.values[0].value, 80.0);
  EXPECT_EQ(stand.values[1].plot, "102");
  EXPECT_EQ(stand.values[2].plot, "201");
  EXPECT_FALSE(stand.values[2].value) << "B was to be rated there";
}

TEST_F(Ratings, SeveralReadingsOfAPlotAreAveragedInTheScalesFirstUnit) {
  rate("101", "stubble_height", 3.0, "height", "in");
  rate("101", "stubble_height", 2.54 * 5.0, "height", "cm").part = 2;
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  EXPECT_EQ(only(ratings).unit, "in");
  EXPECT_NEAR(*only(ratings).values.front().value, 4.0, 1e-12);
}

TEST_F(Ratings, SharesOfAWholeAreAMeasureEach) {
  add_scale("cover", "ground_cover", ScaleKind::kShares, Direction::kHighIsBest);
  Scale& scale = trial_.facts().scales["cover"];
  scale.units = {"%"};
  scale.steps = {{"sown", 1, ""}, {"weed", 2, ""}, {"bare", 3, ""}};
  rate("101", "ground_cover", 60, "cover", "%").entered = "sown=60 weed=25 bare=15";
  rate("102", "ground_cover", 40, "cover", "%").entered = "sown=40 weed=0 bare=60";
  trial_.claim(trial_.plot("102"), "ground_cover").others = 1;
  rate("201", "ground_cover", 40, "cover", "%").entered = "sown=40";
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  ASSERT_EQ(ratings.measures.size(), 3U);
  EXPECT_EQ(ratings.measures[0].measure, "ground_cover");
  EXPECT_EQ(ratings.measures[0].direction, Direction::kHighIsBest);
  EXPECT_EQ(ratings.measures[0].values[0].value, 60.0);
  EXPECT_EQ(ratings.measures[1].measure, "ground_cover_bare");
  EXPECT_EQ(ratings.measures[1].direction, Direction::kNone);
  EXPECT_EQ(ratings.measures[1].values[0].value, 15.0);
  EXPECT_FALSE(ratings.measures[1].values[1].value);
  EXPECT_EQ(ratings.measures[2].measure, "ground_cover_weed");
  EXPECT_EQ(ratings.measures[2].values[0].value, 25.0);
  EXPECT_EQ(ratings.measures[2].unit, "%");
  // The conflict once; what can't be read once for each share that is wanted of it.
  ASSERT_EQ(ratings.left_out.size(), 3U);
  EXPECT_THAT(ratings.left_out[0].what, HasSubstr("stands in conflict"));
  EXPECT_THAT(ratings.left_out[1].mend, HasSubstr("every part"));
}

TEST_F(Ratings, ADateReachedIsTheFirstVisitThatFoundIt) {
  add_scale("heading", "heading", ScaleKind::kReached, Direction::kNone);
  const auto visit = [&](const std::string& plot, int day, double reached) {
    rate(plot, "heading", reached, "heading").part = 365 + day;
  };
  visit("101", 130, 0);
  visit("101", 134, 0);
  visit("101", 138, 1);
  visit("102", 130, 1);  // nobody looked before
  visit("202", 130, 0);  // not yet
  visit("201", 134, 1);  // contradicts itself
  visit("201", 138, 0);
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  EXPECT_EQ(only(ratings).unit, "day of year");
  const auto& values = only(ratings).values;
  EXPECT_EQ(values[0].value, 138.0);
  for (const std::size_t n : {1U, 2U, 3U}) EXPECT_FALSE(values[n].value) << n;
  ASSERT_EQ(ratings.left_out.size(), 2U);
  EXPECT_EQ(one_line(ratings.left_out[0]),
            "T spring plot 102: heading: reached by the first visit, 2026-05-10; the day is not "
            "known (it can't be had any more: begin the visits earlier another year)");
  EXPECT_THAT(ratings.left_out[1].what, HasSubstr("not yet was said after"));
}

TEST_F(Ratings, CellsAndCountsAreTheNumbersTheyStandFor) {
  add_scale("grid", "frequency_grid", ScaleKind::kCells, Direction::kHighIsBest);
  trial_.facts().scales["grid"].units = {"%"};
  add_scale("tillers", "tillers", ScaleKind::kCounts, Direction::kNone);
  rate("101", "frequency_grid", 70, "grid", "%").entered = "15 14 20 21";
  rate("101", "tillers", 2.41, "tillers").entered = "V=10 R0=5";
  const TrialRatings ratings = ratings_of(trial_.facts(), "T");
  ASSERT_EQ(ratings.measures.size(), 2U);
  EXPECT_EQ(ratings.measures[0].values[0].value, 70.0);
  EXPECT_EQ(ratings.measures[0].unit, "%");
  EXPECT_EQ(ratings.measures[1].values[0].value, 2.41);
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
  ASSERT_EQ(ratings.left_out.size(), 1U);
  EXPECT_THAT(ratings.left_out.front().what, HasSubstr("1 value of a rating"));
  // No revision that is held names it: the day has to do.
  EXPECT_THAT(ratings.left_out.front().where, StartsWith("T of 2026-"));
}

TEST_F(Ratings, PlotsOutOfResultsHaveNoRow) {
  rate("101", "percent_stand", 90, "stand");
  trial_.as_sown("101", AsSownStatus::kAbandoned, WeighedTrial::day(5, 1));
  EXPECT_EQ(only(ratings_of(trial_.facts(), "T")).values.size(), 3U);
}

}  // namespace
}  // namespace ligule::results
