#include "storage/ledger/earlier_cuttings.h"

#include <gtest/gtest.h>

#include "tests/storage/ledger/sample.h"

namespace ligule::ledger {
namespace {

using namespace sample;

// Proves: the season's earlier cuttings come net, and without what is in doubt.
TEST(EarlierCuttings, ACuttingBringsWhatTheSeasonsEarlierOnesWeighed) {
  const Folder folder(true);
  Ledger ledger = started(folder.file("a.ledger"), 1);
  Plan two = plan();
  two.occasions.push_back({"cut2", Job::kHarvest, 2026, 2, {}, std::nullopt});
  const OccasionId second = two.occasion(two.occasions.back());
  const auto weighed = [&](unsigned seq, const char* plot, const char* measure, const char* value) {
    Record record = reading(seq, plot, measure, value);
    record.occasion = cutting();
    record.unit = "lb";
    return record;
  };
  Record held = weighed(14, "201", "gross_weight", "30");
  held.state = ValueState::kOnHold;
  Record again = weighed(16, "202", "gross_weight", "31");
  again.part = 1;
  need(
      ledger.append({plan_record(9, two), weighed(10, "101", "gross_weight", "20"),
                     weighed(11, "101", "tare_weight", "2"), weighed(12, "102", "tare_weight", "2"),
                     held, weighed(15, "202", "gross_weight", "30"), again}));
  const auto loaded = need(earlier_cuttings(ledger, trial(), second));
  ASSERT_EQ(loaded.size(), 1U);
  ASSERT_EQ(loaded[0].size(), 1U) << "one plot that nobody doubts";
  EXPECT_DOUBLE_EQ(loaded[0].at("101"), 18 * 0.45359237);
  EXPECT_TRUE(need(earlier_cuttings(ledger, trial(), cutting())).empty())
      << "none comes before the first";
  EXPECT_TRUE(need(earlier_cuttings(ledger, trial(), rating())).empty());
}

}  // namespace
}  // namespace ligule::ledger
