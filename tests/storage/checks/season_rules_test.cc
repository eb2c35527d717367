// The rules that hold a value against its species and against the plot's own season: both sides of
// their edges.
#include "storage/checks/season_rules.h"

#include <gtest/gtest.h>

#include "tests/storage/checks/rule_case.h"

namespace ligule::checks {
namespace {

Case height(std::string_view entered, std::string_view unit) {
  return {"plant_height_stretched", scale_of(ScaleKind::kLength, {"in", "cm"}), entered, unit};
}

Case stage(std::string_view entered) {
  Scale scale = scale_of(ScaleKind::kStages, {});
  scale.steps = {{"V", 1, "leaves"}, {"E0", 2, "elongation"}, {"R0", 3, "boot"}};
  return {"maturity", scale, entered};
}

Case pounds(std::string_view entered) {
  return {"gross_weight", scale_of(ScaleKind::kMass, {"lb", "kg"}), entered, "lb"};
}

TEST(SeasonRules, OutsideOfWhatIsUsualAsksAndOutsideOfWhatCanBeIsRefused) {
  Limit usual{"plant_height_stretched", "", "", "in", 4, 60, "s", 1, 120};
  struct Row {
    const char* entered;
    const char* unit;
    const char* code;
  };
  for (const Row& row :
       {Row{"0.9", "in", "out_of_limits"}, Row{"1", "in", "unusual"}, Row{"3.9", "in", "unusual"},
        Row{"4", "in", ""}, Row{"60", "in", ""}, Row{"60.1", "in", "unusual"},
        Row{"120", "in", "unusual"}, Row{"120.5", "in", "out_of_limits"},
        // 4 in are 10.16 cm, 60 in 152.4 cm.
        Row{"10.1", "cm", "unusual"}, Row{"10.2", "cm", ""}, Row{"152.4", "cm", ""},
        Row{"152.5", "cm", "unusual"}}) {
    Case made = height(row.entered, row.unit);
    EXPECT_EQ(codes(made.verdict()), "") << "nobody says what is usual";
    made.history.usual = &usual;
    const std::string found = codes(made.verdict());
    if (std::string_view(row.code) == "out_of_limits")
      EXPECT_TRUE(found.starts_with(row.code)) << row.entered << ' ' << found;
    else
      EXPECT_EQ(found, row.code) << row.entered << ' ' << row.unit;
  }
  Case over = height("155", "cm");
  over.history.usual = &usual;
  const Verdict verdict = over.verdict();
  EXPECT_EQ(verdict.outcome, Outcome::kAsk);
  EXPECT_EQ(verdict.findings.front().arguments,
            (std::vector<std::string>{"155\u00a0cm", "10.16", "152.4\u00a0cm"}));
  over.history.answered = {{"unusual", "measured_so"}};
  EXPECT_EQ(codes(over.verdict()), "") << "never twice";
  usual.ask_below.reset();
  over.history.answered.clear();
  EXPECT_EQ(over.verdict().findings.front().arguments[1], "\u2026") << "an open end";
}

TEST(SeasonRules, OfTooLowAStubbleOneRuleSpeaks) {
  const Limit usual{"stubble_height", "", "", "in", 4, 6, "s"};
  const auto stubble = [&](std::string_view entered) {
    Case made("stubble_height", scale_of(ScaleKind::kLength, {"in", "cm"}), entered, "in");
    made.history.usual = &usual;
    made.history.least_stubble = 4;
    return codes(made.verdict());
  };
  EXPECT_EQ(stubble("3.5"), "stubble_low");
  EXPECT_EQ(stubble("6"), "");
  EXPECT_EQ(stubble("6.5"), "unusual");
}

// What one person stood by that day asks no more, but of what is lower still.
TEST(SeasonRules, AStubbleLowerThanTheOneStoodByAsksAgain) {
  const Limit usual{"stubble_height", "", "", "in", 4, 6, "s"};
  const auto stubble = [&](std::string_view entered, std::string_view unit) {
    Case made("stubble_height", scale_of(ScaleKind::kLength, {"in", "cm"}), entered, unit);
    made.history.usual = &usual;
    made.history.least_stubble = 4;
    made.history.stubble_answered = 3.5;
    made.history.answered = {{"stubble_low", "measured_so"}};
    return made.verdict();
  };
  EXPECT_EQ(codes(stubble("3.5", "in")), "");
  EXPECT_EQ(stubble("3.5", "in").answered.size(), 1U);
  EXPECT_EQ(codes(stubble("3.4", "in")), "stubble_low");
  EXPECT_EQ(codes(stubble("8.9", "cm")), "") << "3.504 in";
  EXPECT_EQ(codes(stubble("8.8", "cm")), "stubble_low");
}

TEST(SeasonRules, AWeightFarFromWhatTheOthersSuggestAsks) {
  const auto judged = [](std::string_view entered, std::optional<double> other_bags) {
    Case weight = pounds(entered);
    weight.history.expected = ExpectedWeight{4, 3, 5};  // kilograms
    weight.history.tare = *mass_in(1, "lb");
    if (other_bags) weight.history.other_bags = Kilograms(*other_bags);
    return weight.verdict();
  };
  // 3 and 5 kg are 6.614 and 11.023 lb, and the bag 1 lb.
  EXPECT_EQ(codes(judged("7.62", std::nullopt)), "");
  EXPECT_EQ(codes(judged("12.02", std::nullopt)), "");
  const Verdict low = judged("7.61", std::nullopt);
  EXPECT_EQ(low.outcome, Outcome::kAsk);
  ASSERT_EQ(codes(low), "weight_unexpected");
  EXPECT_EQ(low.findings.front().arguments, std::vector<std::string>{})
      << "nothing of what is expected";
  EXPECT_EQ(codes(judged("12.03", std::nullopt)), "weight_unexpected");
  EXPECT_EQ(codes(judged("4", 2.0)), "") << "with its other bag";
  EXPECT_EQ(codes(judged("12.02", 0.1)), "weight_unexpected");
  Case bare = pounds("30");
  bare.history.expected = ExpectedWeight{4, 3, 5};
  bare.history.stand = 0;
  EXPECT_EQ(codes(bare.verdict()), "weight_without_stand") << "one thing is asked about once";
  Case unknown = pounds("30");
  EXPECT_EQ(codes(unknown.verdict()), "");
}

TEST(SeasonRules, AStandThatRisesWithinASeasonAsks) {
  EXPECT_EQ(codes(percent("85").verdict()), "") << "rated for the first time";
  Case same = percent("80");
  same.history.stand_before = 60;
  EXPECT_EQ(codes(same.verdict()), "") << "20 points more may be";
  Case more = percent("85");
  more.history.stand_before = 60;
  EXPECT_EQ(codes(more.verdict()), "stand_rose");
  EXPECT_TRUE(more.verdict().findings.front().arguments.empty()) << "nobody is told what was seen";
  // Plants still come up in the year of sowing, and after a late one in the next.
  for (const auto& [sown, asks] :
       {std::pair{date::year{2026} / date::month{3} / date::day{20}, false},
        std::pair{date::year{2025} / date::month{7} / date::day{1}, false},
        std::pair{date::year{2025} / date::month{6} / date::day{30}, true},
        std::pair{date::year{2024} / date::month{9} / date::day{1}, true}}) {
    more.plan.sown = sown;
    EXPECT_EQ(codes(more.verdict()), asks ? "stand_rose" : "") << format_date(sown);
  }
  more.history.sown = date::year{2026} / date::month{4} / date::day{2};
  EXPECT_EQ(codes(more.verdict()), "") << "this plot was sown again";
  Case other("disease", percent("85").scale, "85");
  other.history.stand_before = 60;
  EXPECT_EQ(codes(other.verdict()), "");
}

TEST(SeasonRules, AStageThatGoesBackAsks) {
  Case back = stage("E0");
  EXPECT_EQ(codes(back.verdict()), "");
  back.history.stage_before = 3;
  EXPECT_EQ(codes(back.verdict()), "stage_went_back");
  EXPECT_TRUE(back.verdict().findings.front().arguments.empty());
  Case still = stage("R0");
  still.history.stage_before = 3;
  EXPECT_EQ(codes(still.verdict()), "");
}

TEST(SeasonRules, AWeightOfAnAbandonedPlotAsks) {
  Case weight = pounds("12");
  EXPECT_EQ(codes(weight.verdict()), "");
  weight.history.abandoned = date::year{2026} / date::month{4} / date::day{2};
  ASSERT_EQ(codes(weight.verdict()), "weight_abandoned");
  EXPECT_EQ(weight.verdict().outcome, Outcome::kAsk);
  EXPECT_EQ(weight.verdict().findings.front().arguments, std::vector<std::string>{"2026-04-02"});
}

TEST(SeasonRules, AWeightOfAPlotWithoutAStandAsks) {
  Case weight = pounds("12");
  weight.history.stand = 0;
  EXPECT_EQ(codes(weight.verdict()), "weight_without_stand");
  weight.history.stand = 5;
  EXPECT_EQ(codes(weight.verdict()), "");
  Case bin = pounds("12");
  bin.history.stand = 0;
  bin.history.tare = *mass_in(12, "lb");
  EXPECT_EQ(codes(bin.verdict()), "gross_under_tare") << "only the bin";
}

// A strip of 3 by 20 ft is 60 / 43560 acre. 100 lb at 10 percent of dry matter are 10 lb, 3.63
// ton/acre; 111 lb are 4.029. 0.5 lb at 50 percent are 0.0907 ton/acre, 0.6 lb are 0.1089.
TEST(SeasonRules, AWeightThatNoDryMatterMakesUsualAsks) {
  const Limit usual{"cutting_yield", "", "", "ton/acre", 0.1, 4, "s"};
  const auto weighed = [&](std::string_view entered) {
    Case made = pounds(entered);
    made.history.cutting_yield = &usual;
    made.history.strip = convert<SquareMetres>(SquareFeet(60));
    return made;
  };
  EXPECT_EQ(codes(weighed("110").verdict()), "");
  Case heavy = weighed("111");
  ASSERT_EQ(codes(heavy.verdict()), "yield_unusual");
  EXPECT_EQ(heavy.verdict().findings.front().arguments,
            (std::vector<std::string>{"4.03", "0.1", "4"}));
  EXPECT_EQ(codes(weighed("0.6").verdict()), "");
  EXPECT_EQ(codes(weighed("0.5").verdict()), "yield_unusual");
  EXPECT_EQ(codes(weighed("0").verdict()), "gross_under_tare") << "nothing is no weight";
  // Its own sample: 25 percent of dry matter, so 45 lb are 4.08 ton/acre.
  Case own = weighed("45");
  EXPECT_EQ(codes(own.verdict()), "");
  own.history.sample_fresh = in_grams(430);
  own.history.sample_dry = in_grams(130);
  own.history.bag_tare = in_grams(30);
  EXPECT_EQ(codes(own.verdict()), "yield_unusual");
  // What is usual of this species decides: of sorghum 35 percent at most.
  const Limit dry{"dry_matter_percent", "", "", "percent", 20, 35, "s"};
  Case narrow = weighed("60");
  EXPECT_EQ(codes(narrow.verdict()), "");
  narrow.history.dry_matter = &dry;
  EXPECT_EQ(codes(narrow.verdict()), "yield_unusual");
  Case nowhere = weighed("300");
  nowhere.history.strip.reset();
  EXPECT_EQ(codes(nowhere.verdict()), "");
}

TEST(SeasonRules, ATrialThatWasCutNotLongAgoAsksOnceADay) {
  Case soon = pounds("12");
  soon.history.last_cut = date::year{2026} / date::month{4} / date::day{15};
  ASSERT_EQ(codes(soon.verdict()), "cut_again_soon");  // 19 days to 4 May
  EXPECT_EQ(soon.verdict().findings.front().arguments, (std::vector<std::string>{"19"}));
  EXPECT_EQ(soon.verdict().findings.front().rule->scope, Scope::kDay);
  soon.history.last_cut = date::year{2026} / date::month{4} / date::day{14};
  EXPECT_EQ(codes(soon.verdict()), "");
}

// As above: 100 lb at 10 percent are 3.63 ton/acre.
TEST(SeasonRules, AllBagsOfAPlotAreHeldAgainstAUsualYield) {
  const Limit usual{"cutting_yield", "", "", "ton/acre", 0.1, 4, "s"};
  Case second = pounds("60");
  second.history.cutting_yield = &usual;
  second.history.strip = area(*length_in(3, "ft"), *length_in(20, "ft"));
  EXPECT_EQ(codes(second.verdict()), "");
  second.history.other_bags = *mass_in(50, "lb");
  EXPECT_EQ(codes(second.verdict()), "") << "110 lb";
  second.history.other_bags = *mass_in(51, "lb");
  EXPECT_EQ(codes(second.verdict()), "yield_unusual") << "111 lb";
}

TEST(SeasonRules, MoreThanASeasonGivesAsks) {
  const Limit year{"season_yield", "", "", "ton/acre", {}, 8, "s"};
  Case third = pounds("100");
  third.history.season_yield = &year;
  third.history.strip = area(*length_in(3, "ft"), *length_in(20, "ft"));
  EXPECT_EQ(codes(third.verdict()), "") << "the first cutting";
  // With 120 lb before 220 lb, 7.986 ton/acre; with 121 lb 8.022.
  third.history.season_net = *mass_in(120, "lb");
  EXPECT_EQ(codes(third.verdict()), "");
  third.history.season_net = *mass_in(121, "lb");
  EXPECT_EQ(codes(third.verdict()), "season_yield_unusual");
  EXPECT_EQ(third.verdict().findings.front().arguments, (std::vector<std::string>{"8.02", "8"}));
  third.history.season_net = *mass_in(71, "lb");
  third.history.other_bags = *mass_in(50, "lb");
  EXPECT_EQ(codes(third.verdict()), "season_yield_unusual") << "the plot's other bags count";
  // Only the wettest forage keeps so much under the limit, and this sample was drier.
  third.history.other_bags.reset();
  third.history.sample_fresh = in_grams(500);
  third.history.sample_dry = in_grams(100);
  EXPECT_EQ(codes(third.verdict()), "season_yield_unusual") << "3.63 * 2 + 2.58";
}

TEST(SeasonRules, AClockThatWentBackAsksOncePerDay) {
  using std::chrono::minutes;
  Case made = percent("80");
  const UtcInstant noon = date::sys_days{kToday} + std::chrono::hours{16};
  made.history.now = stamp_at(noon, minutes{-240});
  EXPECT_EQ(codes(made.verdict()), "") << "nothing was kept yet";
  made.history.kept_last = stamp_at(noon + minutes{2}, minutes{-240});
  EXPECT_EQ(codes(made.verdict()), "") << "put right by a little";
  made.history.kept_last = stamp_at(noon + minutes{3}, minutes{-240});
  const Verdict asked = made.verdict();
  EXPECT_EQ(codes(asked), "clock_went_back");
  EXPECT_EQ(asked.outcome, Outcome::kAsk);
  EXPECT_EQ(asked.findings.front().rule->scope, Scope::kDay);
  EXPECT_EQ(asked.findings.front().arguments,
            (std::vector<std::string>{"2026-05-04 12:03", "2026-05-04 12:00"}));
}

}  // namespace
}  // namespace ligule::checks
