#include "storage/trial/reached.h"

#include <gtest/gtest.h>

#include <vector>

namespace ligule {
namespace {

using date::day;
using date::month;
using date::year;

Reached of(std::vector<Visit> visits) {
  return reached_of(visits);
}

TEST(Reached, LiesBetweenTwoVisits) {
  EXPECT_EQ(of({{120, false}, {124, false}, {128, true}}), (Reached{124, 128, false}));
  // In whatever order the records came, and seen twice.
  EXPECT_EQ(of({{128, true}, {131, true}, {120, false}, {124, false}}), (Reached{124, 128, false}));
}

TEST(Reached, MayHaveOnlyOneEnd) {
  EXPECT_EQ(of({}), (Reached{}));
  EXPECT_EQ(of({{120, false}, {124, false}}), (Reached{124, std::nullopt, false}));
  EXPECT_EQ(of({{120, true}}), (Reached{std::nullopt, 120, false}));
}

TEST(Reached, IsNotTakenBackByALaterLook) {
  EXPECT_EQ(of({{120, true}, {124, false}}), (Reached{std::nullopt, std::nullopt, true}));
  EXPECT_EQ(of({{120, true}, {120, false}}), (Reached{std::nullopt, std::nullopt, true}));
}

TEST(DayOfYear, CountsFromTheFirstOfJanuary) {
  EXPECT_EQ(day_of_year(year(2026) / month(1) / day(1), 2026), 1);
  EXPECT_EQ(day_of_year(year(2026) / month(5) / day(20), 2026), 140);
  EXPECT_EQ(day_of_year(year(2024) / month(12) / day(31), 2024), 366);
  EXPECT_EQ(day_of_year(year(2027) / month(1) / day(2), 2026), 367);
  EXPECT_EQ(day_of_year(year(2025) / month(12) / day(31), 2026), 0);
}

TEST(VisitPart, HasADayOfTheYearBeforeToo) {
  EXPECT_EQ(visit_part(year(2025) / month(1) / day(1), 2026), 1);
  EXPECT_EQ(visit_part(year(2026) / month(5) / day(20), 2026), 365 + 140);
  EXPECT_EQ(visit_part(year(2024) / month(5) / day(20), 2026), 1) << "a part is 1 or more";
  for (const int part : {1, 140, 365, 366, 505})
    EXPECT_EQ(visit_part(visit_date(part, 2026), 2026), part);
}

TEST(SaysNotYet, OfTheFirstStepOnly) {
  Record record;
  record.entered = "not_yet";
  EXPECT_FALSE(says_not_yet(record)) << "words";
  record.value = 0;
  EXPECT_TRUE(says_not_yet(record));
  record.entered = "reached";
  record.value = 1;
  EXPECT_FALSE(says_not_yet(record));
}

}  // namespace
}  // namespace ligule
