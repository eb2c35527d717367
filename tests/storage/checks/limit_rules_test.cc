// The rules that look at what limits or the plan say of a weight or a height: both sides of their
// edges.
#include <gtest/gtest.h>

#include "tests/storage/checks/rule_case.h"

namespace ligule::checks {
namespace {

// Bounds: assets/limits.json. A bag of 30 g with 430 g in it: 400 g of sample.
TEST(Rules, DryMatterOutsideOfWhatIsUsualAsks) {
  const Limit usual{"dry_matter_percent", "", "", "percent", 10, 50, "s"};
  struct Row {
    const char* dry;
    bool asks;
  };
  for (const Row& row : {Row{"69.9", true}, Row{"70", false}, Row{"150", false}, Row{"230", false},
                         Row{"230.1", true}, Row{"429", true}, Row{"31", true}}) {
    Case sample = grams("sample_dry", row.dry);
    sample.history.sample_fresh = in_grams(430);
    sample.history.bag_tare = in_grams(30);
    EXPECT_EQ(codes(sample.verdict()), "") << "nobody says what is usual";
    sample.history.dry_matter = &usual;
    EXPECT_EQ(codes(sample.verdict()), row.asks ? "dry_matter_unusual" : "") << row.dry;
    if (!row.asks) continue;
    EXPECT_EQ(sample.verdict().outcome, Outcome::kAsk);
    sample.history.answered = {{"dry_matter_unusual", "right_so"}};
    EXPECT_EQ(codes(sample.verdict()), "") << "never twice";
  }
  // The fresh weight may come second.
  Case fresh = grams("sample_fresh", "230");
  fresh.history.sample_dry = in_grams(150);
  fresh.history.bag_tare = in_grams(30);
  fresh.history.dry_matter = &usual;
  ASSERT_EQ(codes(fresh.verdict()), "dry_matter_unusual");
  EXPECT_EQ(fresh.verdict().findings.front().arguments,
            (std::vector<std::string>{"60", "10", "50"}));
}

TEST(Rules, WhatCanNotBeDryMatterIsAskedAboutOnce) {
  const Limit usual{"dry_matter_percent", "", "", "percent", 10, 50, "s"};
  Case over = grams("sample_dry", "440");
  over.history.sample_fresh = in_grams(430);
  over.history.bag_tare = in_grams(30);
  over.history.dry_matter = &usual;
  EXPECT_EQ(codes(over.verdict()), "dry_over_fresh");
  Case under = grams("sample_dry", "30");
  under.history = over.history;
  EXPECT_EQ(codes(under.verdict()), "dry_under_bag");
}

TEST(Rules, AGrossWeightWhoseTareIsStillToComeAsks) {
  Case gross = grams("gross_weight", "900");
  EXPECT_EQ(codes(gross.verdict()), "");
  gross.history.tare_to_come = true;
  ASSERT_EQ(codes(gross.verdict()), "tare_missing");
  EXPECT_EQ(gross.verdict().findings.front().rule->scope, Scope::kDay);
  gross.history.answered = {{"tare_missing", "bin_reads_zero"}};
  EXPECT_EQ(codes(gross.verdict()), "");
  Case tare = grams("tare_weight", "900");
  tare.history.tare_to_come = true;
  EXPECT_EQ(codes(tare.verdict()), "");
}

TEST(Rules, StubbleUnderTheLeastHeightAsks) {
  const auto stubble = [](std::string_view entered, std::string_view unit) {
    Case made("stubble_height", scale_of(ScaleKind::kLength, {"in", "cm"}), entered, unit);
    made.history.least_stubble = 4;
    return made;
  };
  EXPECT_EQ(codes(stubble("0.9", "in").verdict()), "stubble_low");
  EXPECT_EQ(codes(stubble("3.9", "in").verdict()), "stubble_low");
  EXPECT_EQ(codes(stubble("4", "in").verdict()), "");
  EXPECT_EQ(codes(stubble("10.16", "cm").verdict()), "");
  EXPECT_EQ(codes(stubble("10.1", "cm").verdict()), "stubble_low");
  EXPECT_EQ(stubble("3", "in").verdict().findings.front().arguments.front(), "4\u00a0in");
  EXPECT_EQ(stubble("3", "cm").verdict().findings.front().arguments.front(), "10.2\u00a0cm");
  Case nobody = stubble("0.9", "in");
  nobody.history.least_stubble.reset();
  EXPECT_EQ(codes(nobody.verdict()), "");
}

}  // namespace
}  // namespace ligule::checks
