// Which values are still to be looked at at the day's end or the desk.
#include "storage/checks/open_questions.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace ligule::checks {
namespace {

using ::testing::ElementsAre;
using ::testing::IsEmpty;

Record value(int minute, std::vector<Answer> answers = {}, ValueState state = ValueState::kValue) {
  Record record;
  record.kind = kind::kReading;
  record.measure = "percent_stand";
  record.state = state;
  record.at.utc = UtcInstant{std::chrono::minutes{minute}};
  record.occasion = OccasionId{Uuid{}};
  record.answers = std::move(answers);
  return record;
}

TEST(OpenQuestions, KeptAnywayAndOnHoldAreToBeLookedAt) {
  const std::vector<Record> standing{
      value(1), value(2, {{"stand_rose", "measured_so"}}),
      value(3, {{"dry_over_fresh", "not_known"}}, ValueState::kOnHold),
      value(4, {}, ValueState::kOnHold), value(5, {}, ValueState::kMissing)};
  EXPECT_THAT(open_questions(standing), ElementsAre(1, 2, 3));
}

TEST(OpenQuestions, ASettlementClosesTheQuestion) {
  Record settled = value(1, {{"stand_rose", "measured_so"}});
  settled.kind = kind::kSettlement;
  EXPECT_THAT(open_questions(std::vector<Record>{settled}), IsEmpty());
  settled.state = ValueState::kOnHold;
  EXPECT_THAT(open_questions(std::vector<Record>{settled}), ElementsAre(0)) << "it still is";
}

TEST(OpenQuestions, OfWeatherOneValueIsLookedAt) {
  EXPECT_THAT(open_questions(std::vector<Record>{
                  value(1, {{"weather", "drought"}, {"unusual", "drought"}}),
                  value(2, {{"unusual", "drought"}}), value(3, {{"unusual", "measured_so"}})}),
              ElementsAre(0, 2));
  EXPECT_EQ(open_answers(value(1, {{"weather", "drought"}, {"unusual", "drought"}})),
            (std::vector<Answer>{{"weather", "drought"}}));
}

TEST(OpenQuestions, WhatHoldsForADayIsOneQuestion) {
  std::vector<Record> day{value(9, {{"clock_went_back", "clock_is_wrong"}}),
                          value(3, {{"clock_went_back", "clock_is_wrong"}}),
                          value(5, {{"clock_went_back", "clock_is_wrong"}})};
  EXPECT_THAT(open_questions(day), ElementsAre(1)) << "the earliest";
  day[1].kind = kind::kSettlement;
  EXPECT_THAT(open_questions(day), IsEmpty());
  day[0].at.local_date += date::months{2};
  EXPECT_THAT(open_questions(day), ElementsAre(0)) << "of a day after it was settled";
  day[1].at.local_date += date::months{3};
  EXPECT_THAT(open_questions(day), IsEmpty()) << "it is of a later day than both";
  day[2].occasion.reset();
  EXPECT_THAT(open_questions(day), ElementsAre(2)) << "of another occasion";
}

// Proves: a stubble lower than those that the day's answer was about was asked about too, and is
// looked at; one as high is not.
TEST(OpenQuestions, EveryStubbleThatWasAskedAboutIsOne) {
  const auto stubble = [](int minute, double inches) {
    Record record = value(minute, {{"stubble_low", "measured_so"}});
    record.measure = "stubble_height";
    record.value = inches;
    record.unit = "in";
    return record;
  };
  std::vector<Record> day{stubble(1, 3.5), stubble(2, 3.5), stubble(3, 1), stubble(4, 2),
                          stubble(5, 0.9)};
  EXPECT_THAT(open_questions(day), ElementsAre(0, 2, 4));
  day[4].kind = kind::kSettlement;
  EXPECT_THAT(open_questions(day), IsEmpty());
}

TEST(OpenQuestions, NeighboursThatWereToldApartAreOne) {
  EXPECT_THAT(
      open_questions(std::vector<Record>{value(1, {{"neighbours_exchanged", "weights_right"}})}),
      ElementsAre(0));
}

TEST(OpenQuestions, WhatIsNoRuleOfOursAndWhatStillLosesWaterIsNone) {
  EXPECT_THAT(open_questions(std::vector<Record>{value(1, {{"of_a_newer_program", "yes"}})}),
              IsEmpty());
  const Record drying = value(2, {{"constant_weight", "weigh_again"}}, ValueState::kOnHold);
  EXPECT_THAT(open_questions(std::vector<Record>{drying}), IsEmpty());
}

}  // namespace
}  // namespace ligule::checks
