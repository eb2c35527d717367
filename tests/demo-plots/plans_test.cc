// The demonstration's plans are plans like any other: read whole, with no fault and no notice.
#include <gtest/gtest.h>

#include <set>
#include <string>

#include "storage/files/definitions.h"
#include "storage/files/file_system.h"
#include "storage/files/plan_folder.h"

namespace ligule {
namespace {

class DemoPlans : public ::testing::TestWithParam<const char*> {};

TEST_P(DemoPlans, ReadWithoutFaultOrNotice) {
  const auto disk = files::real_file_system();
  const files::Path assets = LIGULE_SOURCE_ASSETS;
  const auto schemas = files::load_plan_schemas(*disk, assets);
  ASSERT_TRUE(schemas.has_value());
  const auto definitions = files::load_definitions(*disk, assets);
  ASSERT_TRUE(definitions.has_value());
  const files::Path folder = files::Path(LIGULE_TEST_DATA) / "../demo-plots/plans" / GetParam();
  const auto read = files::read_plan_folder(*disk, folder, *schemas, *definitions);
  if (!read) {
    for (const Error& fault : read.error()) ADD_FAILURE() << fault.where << ": " << fault.what;
    return;
  }
  for (const Error& notice : read->notices) ADD_FAILURE() << notice.where << ": " << notice.what;

  const Plan& plan = read->plan;
  EXPECT_EQ(plan.codes.trial, GetParam());
  EXPECT_GE(plan.entries.size(), 12U);
  EXPECT_LE(plan.entries.size(), 24U);
  std::set<int> blocks;
  for (const PlanPlot& plot : plan.plots) blocks.insert(plot.block);
  EXPECT_EQ(blocks, (std::set<int>{1, 2, 3, 4}));
  EXPECT_EQ(plan.plots.size(), 4 * plan.entries.size());
}

INSTANTIATE_TEST_SUITE_P(All, DemoPlans,
                         ::testing::Values("TF24", "TF23", "AL24", "SS25", "SS26", "OG25", "PR25",
                                           "WC25"),
                         [](const auto& given) { return std::string(given.param); });

}  // namespace
}  // namespace ligule
