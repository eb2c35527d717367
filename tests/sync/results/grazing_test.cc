#include "sync/results/grazing.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>

#include "storage/trial/details.h"
#include "tests/sync/results/stand_trial.h"

namespace ligule::results {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;
using ::testing::IsEmpty;

class GrazingOf : public ::testing::Test {
 protected:
  static CalendarDate day(unsigned month, unsigned of_month) {
    return WeighedTrial::day(month, of_month);
  }
  // Two passes of stand around a grazing from June 10 to 12, and three looks in between.
  void grazed() {
    event("grazing_in", "2026-06-10");
    event("grazing_out", "2026-06-12");
    trial_.add_pass("stand-may", 2026);
    trial_.add_pass("look-4h", 2026, "4");
    trial_.add_pass("look-24h", 2026, "24");
    trial_.add_pass("stand-fall", 2026);
    trial_.rate_all("stand-may", {80, 100, 80, 90}, day(5, 20));
    trial_.rate_all("stand-fall", {60, 50, 40, 45}, day(10, 5));
    trial_.rate_all("look-4h", {3, 1, 2, 3}, day(6, 10), "grazing_preference");
    trial_.rate_all("look-24h", {4, 2, 3, 5}, day(6, 11), "grazing_preference");
    trial_.rate_all("look-24h", {70, 40, 50, 90}, day(6, 11), "percent_removed");
  }
  Record& event(const std::string& what, const std::string& on, const std::string& block = {}) {
    Record record;
    record.id.uuid.bytes[15] = static_cast<std::uint8_t>(++events_);
    record.kind = kind::kEvent;
    record.at.local_date = day(12, 1);  // written down long after
    record.entered = what;
    Details details = {{"on", on}};
    if (!block.empty()) details["block"] = block;
    record.details = details_text(details);
    trial_.facts().events.push_back({std::move(record), std::nullopt});
    return trial_.facts().events.back().record;
  }
  [[nodiscard]] std::optional<GrazingTest> made() const {
    return grazing_of(trial_.facts(), "T", AnalysisOptions{});
  }
  [[nodiscard]] static std::vector<std::string> figures(const GrazingTest& test) {
    std::vector<std::string> all;
    for (const GrazedPass& pass : test.passes)
      all.push_back(std::string(name_of(pass.figure)) + " " + pass.pass);
    return all;
  }
  [[nodiscard]] static std::vector<std::string> told(const GrazingTest& test) {
    std::vector<std::string> all;
    for (const Error& notice : test.notices) all.push_back(one_line(notice));
    return all;
  }

  StandTrial trial_;
  int events_ = 0;
};

TEST_F(GrazingOf, ATestThatNothingGrazedIsNone) {
  trial_.add_pass("stand-may", 2026);
  trial_.rate_all("stand-may", {80, 100, 80, 90}, day(5, 20));
  event("clipped", "2026-06-10");
  EXPECT_FALSE(made());
  event("grazing_in", "2026-06-10");
  trial_.facts().events.back().taken_back = Record{};
  EXPECT_FALSE(made());
}

// By hand. Preference 4 hours after turn-in: 101 3, 102 1, 201 2, 202 3. A (3 + 3)/2 = 3, B 1.5;
// blocks 2 and 2.5; all 2.25; each residual 0.25 or -0.25: error mean square 4 x 0.0625 = 0.25, LSD
// t(0.975, 1) x sqrt(2 x 0.25 / 2) = 12.70620 x 0.5 = 6.35310, standard error sqrt(0.25 / 2).
TEST_F(GrazingOf, StandBeforeAndAfterPreferenceByHoursAndPercentRemoved) {
  grazed();
  const GrazingTest test = made().value();
  EXPECT_THAT(figures(test),
              ElementsAre("stand_before_first stand-may", "stand_after_last stand-fall",
                          "stand_kept stand-fall", "preference look-4h", "preference look-24h",
                          "percent_removed look-24h"));
  EXPECT_THAT(told(test), IsEmpty());
  EXPECT_EQ(test.first_in, day(6, 10));
  EXPECT_EQ(test.last_out, day(6, 12));
  const GrazedPass& before = test.passes[0];
  EXPECT_EQ(before.measure, "percent_stand");
  EXPECT_EQ(before.on, day(5, 20));
  EXPECT_DOUBLE_EQ(before.analysis.means[0].mean.value(), 85.0);
  EXPECT_TRUE(before.analysis.means[0].in_top_group.has_value());
  EXPECT_DOUBLE_EQ(test.passes[1].analysis.means[1].mean.value(), 45.0);
  // As worked out in stand_persistence_test.cc.
  EXPECT_DOUBLE_EQ(test.passes[2].analysis.means[0].mean.value(), 62.5);
  EXPECT_NEAR(test.passes[2].analysis.lsd.value(), 158.827559, 1e-6);

  const GrazedPass& four_hours = test.passes[3];
  EXPECT_EQ(four_hours.hours_after_turn_in, "4");
  EXPECT_EQ(four_hours.direction, Direction::kNone);
  EXPECT_DOUBLE_EQ(four_hours.analysis.means[0].mean.value(), 3.0);
  EXPECT_DOUBLE_EQ(four_hours.analysis.means[1].mean.value(), 1.5);
  EXPECT_NEAR(four_hours.analysis.lsd.value(), 6.353102368087345, 1e-9);
  EXPECT_NEAR(four_hours.analysis.means[0].standard_error.value(), 0.3535533905932738, 1e-12);
  EXPECT_FALSE(four_hours.analysis.means[0].in_top_group) << "neither end is better";
  EXPECT_FALSE(test.passes[5].analysis.means[0].in_top_group);
  EXPECT_DOUBLE_EQ(test.passes[5].analysis.means[0].mean.value(), 80.0);
}

TEST_F(GrazingOf, TheFileNamesFigureDirectionAndHours) {
  grazed();
  const GrazingTest test = made().value();
  const std::string text = grazing_csv({&test, 1});
  EXPECT_THAT(text, ::testing::StartsWith(
                        "test,figure,measure,direction,year,pass,date,hours_after_turn_in,entry,n,"
                        "mean,se,lsd_05,in_top_group\n"
                        "T,stand_before_first,percent_stand,high is best,2026,stand-may,"
                        "2026-05-20,,Amber (novel),2,85,"));
  EXPECT_THAT(text, HasSubstr("T,preference,grazing_preference,none,2026,look-4h,2026-06-10,4,"
                              "Birch,2,1.5,0.353553390593273"));
  EXPECT_THAT(text, HasSubstr("T,stand_kept,percent_stand,high is best,2026,stand-fall,"));
  EXPECT_EQ(std::ranges::count(text, '\n'), 1 + 6 * 2);
  EXPECT_EQ(grazing_csv({}), "");
  const GrazingTest nothing;
  EXPECT_EQ(grazing_csv({&nothing, 1}), "");
}

TEST_F(GrazingOf, WithoutEventsNoStandIsGuessed) {
  grazed();
  trial_.facts().events.clear();
  const GrazingTest test = made().value();
  EXPECT_THAT(figures(test),
              ElementsAre("preference look-4h", "preference look-24h", "percent_removed look-24h"));
  EXPECT_THAT(told(test),
              ElementsAre("T: no event says when animals went in: the stand before and after "
                          "grazing is not told (write down Animals in and Animals out on Trials)"));
  event("grazing_out", "2026-06-12");  // they never went in
  EXPECT_EQ(made()->last_out, std::nullopt);
  EXPECT_EQ(told(*made()).size(), 1U);
}

TEST_F(GrazingOf, AnimalsThatAreStillInAreNoLastGrazing) {
  grazed();
  event("grazing_in", "2026-09-01", "2");
  event("grazing_out", "2026-09-03", "1");  // of another block
  GrazingTest test = made().value();
  EXPECT_EQ(test.last_out, std::nullopt);
  EXPECT_THAT(figures(test), ElementsAre("stand_before_first stand-may", "preference look-4h",
                                         "preference look-24h", "percent_removed look-24h"));
  EXPECT_THAT(told(test), ElementsAre(HasSubstr("no event says that the animals came out again")));
  event("grazing_out", "2026-09-04");  // of the whole trial
  test = made().value();
  EXPECT_EQ(test.last_out, day(9, 4));
  EXPECT_EQ(figures(test).size(), 6U);
}

TEST_F(GrazingOf, AStandOfTheDayOfTurnInIsNeitherBeforeNorAfter) {
  grazed();
  trial_.add_pass("stand-in", 2026);
  trial_.add_pass("stand-out", 2026);
  trial_.rate_all("stand-in", {70, 90, 70, 80}, day(6, 10));
  trial_.rate_all("stand-out", {50, 50, 50, 50}, day(6, 12));
  GrazingTest test = made().value();
  EXPECT_EQ(test.passes[0].pass, "stand-may");
  EXPECT_EQ(test.passes[1].pass, "stand-fall");
  // Nothing is taken in its place.
  std::erase_if(trial_.facts().claims, [](const ledger::Claim& claim) {
    return claim.record.at.local_date == day(5, 20) || claim.record.at.local_date == day(10, 5);
  });
  test = made().value();
  EXPECT_THAT(figures(test),
              ElementsAre("preference look-4h", "preference look-24h", "percent_removed look-24h"));
  EXPECT_THAT(told(test),
              ElementsAre(HasSubstr("no stand was rated before 2026-06-10, when animals first"),
                          HasSubstr("no stand was rated after 2026-06-12, when animals last")));
}

TEST_F(GrazingOf, TheNearestStandsCount) {
  grazed();
  trial_.add_pass("stand-june", 2026);
  trial_.add_pass("stand-july", 2026);
  trial_.rate_all("stand-june", {70, 90, 70, 80}, day(6, 9));
  trial_.rate_all("stand-july", {50, 50, 50, 50}, day(7, 1));
  const GrazingTest test = made().value();
  EXPECT_EQ(test.passes[0].pass, "stand-june");
  EXPECT_EQ(test.passes[1].pass, "stand-july");
}

TEST_F(GrazingOf, AMeasuredStandServesWhereNobodyRatedIt) {
  grazed();
  for (ledger::Claim& claim : trial_.facts().claims) {
    if (claim.record.measure != "percent_stand") continue;
    claim.record.measure = claim.record.definition = "frequency_grid";
  }
  EXPECT_EQ(made()->passes[2].measure, "frequency_grid");
  // One rated stand is less than two measured ones, and they are never mixed.
  trial_.add_pass("stand-june", 2026);
  trial_.rate_all("stand-june", {70, 90, 70, 80}, day(6, 9));
  EXPECT_EQ(made()->passes[0].measure, "frequency_grid");
  EXPECT_EQ(made()->passes[0].pass, "stand-may");
}

TEST_F(GrazingOf, PlotsWithoutAPercentKeptAreCounted) {
  grazed();
  trial_.facts().claims.front().record.value = 0;  // 101 in May
  EXPECT_THAT(made()->notes, ElementsAre("1 plot began at 0 and can have nothing left: 101."));
}

TEST_F(GrazingOf, PreferenceWithoutHoursIsShownAndTold) {
  grazed();
  trial_.facts().plan.occasions[4].hours_after_turn_in.clear();  // look-4h
  const GrazingTest test = made().value();
  EXPECT_EQ(test.passes[3].hours_after_turn_in, "");
  EXPECT_THAT(told(test), ElementsAre(HasSubstr("look-4h: preference without the hours after")));
}

TEST_F(GrazingOf, HoursThatFitNoTurnInAreTold) {
  grazed();
  trial_.facts().plan.occasions[4].hours_after_turn_in = "48";  // look-4h, on the day itself
  EXPECT_THAT(told(*made()),
              ElementsAre("T: look-4h is stated as 48 hours after turn-in on 2026-06-10, but no "
                          "event says that animals went in then (mend the hours in occasions.csv, "
                          "or the event on Trials)"));
  trial_.facts().plan.occasions[4].hours_after_turn_in = "23.5";
  EXPECT_THAT(told(*made()), IsEmpty());
  trial_.facts().plan.occasions[5].hours_after_turn_in = "72";  // look-24h, of two measures
  EXPECT_EQ(told(*made()).size(), 1U);
}

TEST_F(GrazingOf, LooksOfOneDayStandByTheirHours) {
  grazed();
  trial_.add_pass("a-look-10h", 2026, "10");  // before look-4h by its code
  trial_.rate_all("a-look-10h", {3, 1, 2, 3}, day(6, 10), "grazing_preference");
  EXPECT_THAT(figures(*made()), ::testing::IsSupersetOf({"preference a-look-10h"}));
  EXPECT_EQ(made()->passes[3].pass, "look-4h");
  EXPECT_EQ(made()->passes[4].pass, "a-look-10h");
}

}  // namespace
}  // namespace ligule::results
