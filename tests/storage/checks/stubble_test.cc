#include "storage/checks/stubble.h"

#include <gtest/gtest.h>

namespace ligule::checks {
namespace {

Plan sown(const std::vector<std::string>& species) {
  Plan plan;
  for (const std::string& code : species) {
    PlanEntry entry;
    entry.species = code;
    plan.entries.push_back(entry);
  }
  return plan;
}

TEST(Stubble, TheHighestOfWhatGrowsThereHolds) {
  Definitions known;
  known.species = {{"alfalfa", "Alfalfa", "legume", false},
                   {"tall_fescue", "Tall fescue", "grass", true},
                   {"weed", "Weed", "", false}};
  known.limits = {{"stubble_height", "alfalfa", "", "cm", 5.08, {}, "s"},
                  {"stubble_height", "", "grass", "in", 4, {}, "s"},
                  {"dry_matter_percent", "weed", "", "percent", 10, {}, "s"}};
  EXPECT_EQ(least_stubble(sown({"alfalfa", "tall_fescue"}), known), 4.0);
  EXPECT_DOUBLE_EQ(least_stubble(sown({"alfalfa", "weed"}), known).value_or(0), 2.0);
  EXPECT_FALSE(least_stubble(sown({"weed", "unheard_of"}), known));
}

TEST(Stubble, IsLowBelowItsEdgeOnly) {
  EXPECT_TRUE(is_low(3.99, 4.0));
  EXPECT_FALSE(is_low(4.0, 4.0));
  EXPECT_FALSE(is_low(3.9995, 4.0)) << "what 10.16 cm come to";
  EXPECT_FALSE(is_low(0, std::nullopt));
}

}  // namespace
}  // namespace ligule::checks
