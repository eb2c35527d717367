#include "sync/results/raters.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <array>
#include <cmath>
#include <sstream>

#include "sync/results/rater_tables.h"
#include "sync/results/scale_steps.h"
#include "tests/sync/results/rated_trial.h"

namespace ligule::results {
namespace {

using ::testing::HasSubstr;

// Judges 1 and 4 of the six targets of Shrout & Fleiss (1979) Psychological Bulletin 86:420-428
// (the data of tests/sync/statistics/agreement_test.cc), in two blocks of three.
RatedTrial two_judges() {
  RatedTrial trial(6, 3);
  trial.rate_all(Purpose::kSurvey, "AB", {9, 6, 8, 7, 10, 6});
  trial.rate_all(Purpose::kSecond, "CD", {8, 2, 8, 6, 9, 7});
  return trial;
}

const RaterAgreement& only(const RaterFigures& figures) {
  EXPECT_EQ(figures.agreements.size(), 1U);
  return figures.agreements.front();
}

std::string file_of(const RaterFigures& figures, const std::string& name) {
  for (const OutputFile& file : rater_files(figures))
    if (file.name == name) return file.content;
  return "none";
}

// By hand in fractions, from the definitions: differences -1 -4 0 -1 -1 1, mean -1, variance 14/5;
// mean squares 113/15, 3, 7/5, so ICC(2,1) = (B - E) / (B + E + 2 (J - E) / 6) = 46/71; Lin's
// concordance 23/38; kappa, 1 less the mean squared difference of pairs over that of all 36
// combinations, the same, as Robieson (1999) has it. Between blocks (means -5/3, -1/3) 8/3 on 1,
// within 17/6 on 4 degrees of freedom.
TEST(RatersOf, TwoJudgesOfAPublishedTableAreComparedAsByHand) {
  const RaterFigures figures = two_judges().figures();
  const RaterAgreement& found = only(figures);
  EXPECT_EQ(found.kind, RaterKind::kSecond);
  EXPECT_EQ(found.rater, "CD");
  EXPECT_EQ(found.other, "AB");
  EXPECT_EQ(found.at.occasion, "spring");
  EXPECT_EQ(found.at.year, 2026);
  EXPECT_EQ(found.n, 6U);
  EXPECT_NEAR(*found.mean_difference, -1.0, 1e-14);
  EXPECT_NEAR(*found.spread, std::sqrt(2.8), 1e-14);
  EXPECT_NEAR(found.concordance->value, 23.0 / 38.0, 1e-14);
  EXPECT_LT(*found.concordance->low, 23.0 / 38.0);
  EXPECT_GT(*found.concordance->high, 23.0 / 38.0);
  EXPECT_NEAR(found.icc->value, 46.0 / 71.0, 1e-14);
  EXPECT_LT(*found.icc->low, 46.0 / 71.0);
  EXPECT_GT(*found.icc->high, 46.0 / 71.0);
  EXPECT_NEAR(*found.kappa, 23.0 / 38.0, 1e-14);
  EXPECT_NEAR(*found.drift_f, 16.0 / 17.0, 1e-13);
  ASSERT_EQ(found.blocks.size(), 2U);
  EXPECT_EQ(found.blocks[0].block, 1);
  EXPECT_EQ(found.blocks[0].n, 3U);
  EXPECT_NEAR(*found.blocks[0].mean_difference, -5.0 / 3.0, 1e-14);
  EXPECT_NEAR(*found.blocks[1].mean_difference, -1.0 / 3.0, 1e-14);
  EXPECT_NEAR(*found.blocks[1].standard_error, std::sqrt(17.0 / 18.0), 1e-13);
  EXPECT_TRUE(figures.surveys.empty()) << "one person gave all first values";
}

// Second and third rater of the data set anxiety of the R package irr, category 5 left out as R
// does with levels that do not occur: kappa2(anxiety[, 2:3], "squared") prints 0.252. A table of 20
// plots, rows the first rater.
TEST(RatersOf, KappaOfStagesIsThatOfR) {
  constexpr std::array<int, 25> kTable = {0, 0, 1, 0, 0, 4, 0, 1, 0, 0, 2, 3, 3,
                                          0, 0, 0, 2, 0, 1, 1, 1, 0, 0, 1, 0};
  RatedTrial trial(20, 5);
  Scale& stages = trial.facts().scales["stage"];
  stages.code = "stage";
  stages.kind = ScaleKind::kStages;
  // Steps count by their order, not by the index that is averaged.
  const std::array<double, 5> index = {1.5, 2.2, 2.7, 3.0, 4.9};
  for (const double value : index) stages.steps.push_back({std::to_string(value), value, ""});
  int plot = 0;
  for (std::size_t cell = 0; cell < kTable.size(); ++cell)
    for (int n = 0; n < kTable[cell]; ++n) {
      trial.rate(++plot, Purpose::kSurvey, "AB", index[cell / 5], "stage");
      trial.rate(plot, Purpose::kSecond, "CD", index[cell % 5], "stage");
    }
  ASSERT_EQ(plot, 20);
  EXPECT_NEAR(*only(trial.figures()).kappa, 0.2520325, 5e-8);
}

TEST(RatersOf, FilesHoldTheFiguresAtFullPrecision) {
  const RaterFigures figures = two_judges().figures();
  const std::string text = file_of(figures, "raters.csv");
  EXPECT_THAT(text, testing::StartsWith(
                        "test,occasion,measure,kind,rater,other,n,mean_difference,spread,"
                        "concordance,concordance_low,concordance_high,icc,icc_low,icc_high,kappa,"
                        "drift_f,drift_p\nT,spring,vigor,second,CD,AB,6,-1,1.673320053068151"));
  std::vector<std::string> cells;
  std::istringstream row(text.substr(text.find('\n') + 1));
  for (std::string cell; std::getline(row, cell, ',');) cells.push_back(cell);
  ASSERT_EQ(cells.size(), 18U);
  EXPECT_NEAR(std::stod(cells[9]), 23.0 / 38.0, 1e-14);
  EXPECT_NEAR(std::stod(cells[12]), 46.0 / 71.0, 1e-14);
  EXPECT_NEAR(std::stod(cells[15]), 23.0 / 38.0, 1e-14);
  EXPECT_THAT(file_of(figures, "rater_blocks.csv"),
              testing::StartsWith("test,occasion,measure,kind,rater,other,block,n,mean_difference,"
                                  "se\nT,spring,vigor,second,CD,AB,1,3,-1.666666666666666"));
  EXPECT_EQ(file_of(figures, "rater_effects.csv"), "none");
}

TEST(RatersOf, WithoutSecondsThereIsNoFile) {
  RatedTrial trial(6, 3);
  trial.rate_all(Purpose::kSurvey, "AB", {9, 6, 8, 7, 10, 6});
  EXPECT_TRUE(trial.figures().empty());
  EXPECT_TRUE(rater_files(trial.figures()).empty());
  EXPECT_TRUE(RatedTrial(6, 3).figures().empty());
}

// Proves: what can't be had is empty and never NaN.
TEST(RatersOf, OfTooFewOrOfEqualValuesHaveEmptyCells) {
  RatedTrial trial(6, 3);
  trial.rate_all(Purpose::kSurvey, "AB", {9, 6});
  trial.rate_all(Purpose::kSecond, "CD", {8});
  EXPECT_EQ(file_of(trial.figures(), "raters.csv")
                .substr(file_of(trial.figures(), "raters.csv").find("\nT") + 1),
            "T,spring,vigor,second,CD,AB,1,,,,,,,,,,,\n");
  RatedTrial equal(6, 3);
  equal.rate_all(Purpose::kSurvey, "AB", {5, 5, 5, 5, 5, 5});
  equal.rate_all(Purpose::kSecond, "CD", {5, 5, 5, 5, 5, 5});
  EXPECT_THAT(file_of(equal.figures(), "raters.csv"), HasSubstr("second,CD,AB,6,0,0,,,,,,,,,\n"));
  for (const OutputFile& file : rater_files(equal.figures())) {
    EXPECT_EQ(file.content.find("nan"), std::string::npos) << file.content;
    EXPECT_EQ(file.content.find("inf"), std::string::npos) << file.content;
  }
}

TEST(RatersOf, OpenValuesAreNoPairsAndAreNamed) {
  RatedTrial trial(6, 3);
  trial.rate_all(Purpose::kSurvey, "AB", {9, 6, 8, 7, 10, 6});
  trial.rate(1, Purpose::kSecond, "CD", 8).state = ValueState::kOnHold;
  trial.rate(2, Purpose::kSecond, "CD", 2).state = ValueState::kMissing;
  trial.rate(3, Purpose::kSecond, "CD", 8).state = ValueState::kLater;
  trial.rate(4, Purpose::kSecond, "CD", 6);
  trial.rate(4, Purpose::kSecond, "CD", 5);  // of another tablet: in conflict
  trial.rate(5, Purpose::kSecond, "CD", 9);
  trial.rate(6, Purpose::kSecond, "CD", 9).state = ValueState::kZero;
  const RaterFigures figures = trial.figures();
  EXPECT_EQ(only(figures).n, 2U) << "plots 5 and 6; a zero counts";
  ASSERT_EQ(figures.left_out.size(), 2U);
  std::vector<std::string> lines;
  lines.reserve(figures.left_out.size());
  for (const Error& error : figures.left_out) lines.push_back(one_line(error));
  EXPECT_THAT(lines, testing::UnorderedElementsAre(
                         "T spring plot 1: vigor: a value to compare raters by is on hold (correct "
                         "or settle it)",
                         "T spring plot 4: vigor: a value to compare raters by stands in conflict "
                         "(correct or settle it)"));
}

TEST(RatersOf, FirstValuesInConflictAreNoPairs) {
  RatedTrial trial = two_judges();
  trial.rate(2, Purpose::kSurvey, "EF", 3);
  EXPECT_EQ(only(trial.figures()).n, 5U);
}

TEST(RatersOf, TwoSecondPeopleAreNoConflictOfEachOther) {
  RatedTrial trial = two_judges();
  trial.rate_all(Purpose::kSecond, "EF", {9, 6, 8});
  const RaterFigures figures = trial.figures();
  ASSERT_EQ(figures.agreements.size(), 2U);
  EXPECT_EQ(figures.agreements[0].rater, "CD");
  EXPECT_EQ(figures.agreements[0].n, 6U);
  EXPECT_EQ(figures.agreements[1].rater, "EF");
  EXPECT_EQ(*figures.agreements[1].mean_difference, 0.0);
  EXPECT_TRUE(figures.left_out.empty());
}

TEST(RatersOf, ASecondValueByWhoeverGaveTheFirstIsComparedWithNothing) {
  RatedTrial trial(6, 3);
  trial.rate_all(Purpose::kSurvey, "AB", {9, 6, 8, 7, 10, 6});
  trial.rate_all(Purpose::kSecond, "ab", {8, 2});
  const RaterFigures figures = trial.figures();
  EXPECT_TRUE(figures.agreements.empty());
  ASSERT_EQ(figures.notices.size(), 1U);
  EXPECT_EQ(one_line(figures.notices.front()),
            "T spring: vigor: second values of 2 plots are by whoever gave the first (AB); they "
            "are compared with nothing (give people who share initials initials of their own: here "
            "they are one person)");
}

TEST(RatersOf, ARepeatIsComparedWithTheFirstValue) {
  RatedTrial trial(6, 3);
  trial.rate_all(Purpose::kSurvey, "AB", {9, 6, 8, 7});
  trial.rate(1, Purpose::kRepeat, "AB", 10);
  trial.rate(2, Purpose::kRepeat, "AB", 7);
  trial.rate(4, Purpose::kRepeat, "AB", 8);
  trial.rate(6, Purpose::kRepeat, "AB", 8);  // has no first value
  const RaterFigures figures = trial.figures();
  EXPECT_EQ(only(figures).kind, RaterKind::kRepeat);
  EXPECT_EQ(only(figures).rater, "AB");
  EXPECT_EQ(only(figures).other, "AB");
  EXPECT_EQ(only(figures).n, 3U);
  EXPECT_EQ(*only(figures).mean_difference, 1.0);
  EXPECT_EQ(*only(figures).spread, 0.0);
}

TEST(RatersOf, WhoCorrectedIsTheRaterWhoOnlyMovedItIsNot) {
  RatedTrial trial = two_judges();
  // A correction restates the whole claim, by whoever made it.
  Record& corrected = trial.facts().claims.at(7).record;
  ASSERT_EQ(corrected.purpose, Purpose::kSecond);
  corrected.kind = kind::kCorrection;
  corrected.person = person_id("EF");
  Record& slid = trial.facts().claims.at(8).record;
  slid.kind = kind::kCorrection;
  slid.reason = "slid";
  slid.person = person_id("AB");
  trial.facts().raters[slid.id] = person_id("CD");
  const RaterFigures figures = trial.figures();
  ASSERT_EQ(figures.agreements.size(), 2U);
  EXPECT_EQ(figures.agreements[0].rater, "CD");
  EXPECT_EQ(figures.agreements[0].n, 5U);
  EXPECT_EQ(figures.agreements[1].rater, "EF");
  EXPECT_TRUE(figures.notices.empty());
}

TEST(RatersOf, SomebodyWithoutInitialsHereIsCalledByTheirId) {
  RatedTrial trial(6, 3);
  trial.rate_all(Purpose::kSurvey, "AB", {9, 6, 8});
  trial.rate_all(Purpose::kSecond, "XY", {9, 6, 8});
  EXPECT_EQ(only(trial.figures()).rater, person_id("XY").text());
  trial.facts().claims.at(0).record.person.reset();
  EXPECT_EQ(trial.figures().agreements.front().other, "");
}

TEST(RatersOf, TwoScalesInOnePassAreNotCompared) {
  RatedTrial trial = two_judges();
  trial.facts().scales["other"] = trial.facts().scales["vigor"];
  trial.facts().scales["other"].code = "other";
  trial.facts().claims.back().record.definition = "other";
  const RaterFigures figures = trial.figures();
  EXPECT_TRUE(figures.agreements.empty());
  ASSERT_EQ(figures.left_out.size(), 1U);
  EXPECT_THAT(figures.left_out.front().what, HasSubstr("two scales"));
}

TEST(RatersOf, WordsAndWeightsAreNotCompared) {
  RatedTrial trial(6, 3);
  trial.facts().scales["vigor"].kind = ScaleKind::kMass;
  trial.rate_all(Purpose::kSurvey, "AB", {9, 6, 8});
  trial.rate_all(Purpose::kSecond, "CD", {9, 6, 8});
  EXPECT_TRUE(trial.figures().empty());
}

TEST(RatersOf, PracticeIsOfAPersonAndDay) {
  RatedTrial trial(6, 3);
  trial.practise(1, 1, "AB", 12, 20);
  trial.practise(1, 2, "AB", 48, 50);
  trial.practise(1, 3, "AB", 77, 80);
  trial.practise(2, 1, "AB", 30, 31);  // a second set of that day
  trial.practise(2, 1, "AB", 30, 31);  // said twice alike is said once
  trial.practise(3, 1, "CD", 30, 25);
  const RaterFigures figures = trial.figures();
  ASSERT_EQ(figures.agreements.size(), 2U);
  const RaterAgreement& of = figures.agreements[0];
  EXPECT_EQ(of.kind, RaterKind::kPractice);
  EXPECT_EQ(of.rater, "AB");
  EXPECT_EQ(of.other, "2026-06-01");
  EXPECT_EQ(of.n, 4U);
  EXPECT_EQ(*of.mean_difference, 3.5);
  // 8 2 3 1 about 3.5: 29 over 3.
  EXPECT_NEAR(*of.spread, std::sqrt(29.0 / 3.0), 1e-14);
  EXPECT_TRUE(of.concordance);
  EXPECT_FALSE(of.icc || of.kappa || of.drift_f);
  EXPECT_EQ(figures.agreements[1].n, 1U);
  EXPECT_FALSE(figures.agreements[1].mean_difference);
  EXPECT_EQ(file_of(figures, "rater_blocks.csv"), "none");
}

// Entries 50 60 70, blocks 0 2 4, CD 3 above AB: found exactly where they share blocks.
TEST(RatersOf, WhoSharedOneRatingIsToldBesideEntriesAndBlocks) {
  RatedTrial trial(9, 3);
  trial.facts().claims.clear();
  for (int plot = 1; plot <= 9; ++plot) {
    const bool second = plot == 2 || plot == 4 || plot == 9;
    const int block = (plot - 1) / 3;
    const double value = 50 + 10 * (plot % 3) + 2 * block + (second ? 3 : 0);
    trial.rate(plot, Purpose::kSurvey, second ? "CD" : "AB", value, "percent_stand");
  }
  const RaterFigures figures = trial.figures();
  EXPECT_TRUE(figures.agreements.empty());
  ASSERT_EQ(figures.surveys.size(), 1U);
  const SurveyRaters& of = figures.surveys.front();
  EXPECT_FALSE(of.with_blocks);
  ASSERT_EQ(of.raters.size(), 2U);
  EXPECT_EQ(of.raters[0].rater, "AB");
  EXPECT_EQ(of.raters[0].n, 6U);
  EXPECT_NEAR(of.raters[0].effect, -1.5, 1e-10);
  EXPECT_NEAR(of.raters[1].effect, 1.5, 1e-10);
  const std::string text = file_of(figures, "rater_effects.csv");
  EXPECT_THAT(text, testing::StartsWith("test,occasion,measure,rater,n,effect,se,with_blocks,f,p\n"
                                        "T,spring,percent_stand,AB,6,-1.5"));
  EXPECT_EQ(file_of(figures, "raters.csv"), "none");
}

TEST(RatersOf, WholeBlocksApartAreToldTogetherWithTheirGround) {
  RatedTrial trial(9, 3);
  for (int plot = 1; plot <= 9; ++plot)
    trial.rate(plot, Purpose::kSurvey, plot <= 3 ? "AB" : "CD", 50 + plot % 3, "percent_stand");
  const RaterFigures figures = trial.figures();
  ASSERT_EQ(figures.surveys.size(), 1U);
  EXPECT_TRUE(figures.surveys.front().with_blocks);
  EXPECT_FALSE(figures.surveys.front().p);
  EXPECT_THAT(file_of(figures, "rater_effects.csv"), HasSubstr(",,1,,\n"));
}

TEST(RatersOf, NoFileNamesAnEntry) {
  RatedTrial trial = two_judges();
  for (int plot = 1; plot <= 3; ++plot) trial.rate(plot, Purpose::kRepeat, "AB", 9);
  trial.facts().claims.at(2).record.person = person_id("EF");
  for (const OutputFile& file : rater_files(trial.figures()))
    for (const PlanEntry& entry : trial.facts().plan.entries) {
      EXPECT_EQ(file.content.find(entry.variety), std::string::npos) << file.name;
      EXPECT_EQ(file.content.find("," + entry.code + ","), std::string::npos) << file.name;
    }
}

TEST(ScaleSteps, OfPercentsAreTheCoarseOnes) {
  Scale percent;
  percent.kind = ScaleKind::kPercent;
  percent.step = 5;
  EXPECT_EQ(steps_of(percent), 21U);
  EXPECT_EQ(step_at(percent, 0), 0U);
  EXPECT_EQ(step_at(percent, 97), 19U);
  EXPECT_EQ(step_at(percent, 98), 20U);
  EXPECT_EQ(step_at(percent, 100), 20U);
  EXPECT_FALSE(step_at(percent, 101));
  EXPECT_FALSE(step_at(percent, -1));
  percent.step = 0;
  EXPECT_EQ(steps_of(percent), 0U);
  EXPECT_FALSE(step_at(percent, 5));
}

TEST(ScaleSteps, OfStagesAreTheirOrderAndNothingBetween) {
  Scale stages;
  stages.kind = ScaleKind::kStages;
  stages.steps = {{"V", 1.5, ""}, {"R0", 3.0, ""}, {"R1", 3.1, ""}};
  EXPECT_EQ(steps_of(stages), 3U);
  EXPECT_EQ(step_at(stages, 3.1), 2U);
  EXPECT_FALSE(step_at(stages, 2.0));
  stages.kind = ScaleKind::kText;
  EXPECT_EQ(steps_of(stages), 0U);
}

}  // namespace
}  // namespace ligule::results
