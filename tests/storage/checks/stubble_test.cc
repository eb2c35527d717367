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
  const std::vector<Species> species{{"alfalfa", "Alfalfa", "legume", false, 2},
                                     {"tall_fescue", "Tall fescue", "grass", true, 4},
                                     {"weed", "Weed", "", false, {}}};
  EXPECT_EQ(least_stubble(sown({"alfalfa", "tall_fescue"}), species), 4.0);
  EXPECT_EQ(least_stubble(sown({"alfalfa", "weed"}), species), 2.0);
  EXPECT_FALSE(least_stubble(sown({"weed", "unheard_of"}), species));
}

TEST(Stubble, IsLowBelowItsEdgeOnly) {
  EXPECT_TRUE(is_low(3.99, 4.0));
  EXPECT_FALSE(is_low(4.0, 4.0));
  EXPECT_FALSE(is_low(3.9995, 4.0)) << "what 10.16 cm come to";
  EXPECT_FALSE(is_low(0, std::nullopt));
}

}  // namespace
}  // namespace ligule::checks
