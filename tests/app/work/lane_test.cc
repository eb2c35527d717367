#include "app/work/lane.h"

#include <gtest/gtest.h>

#include <atomic>
#include <memory>
#include <numeric>
#include <vector>

namespace ligule::work {
namespace {

TEST(Lane, DoesEveryJobInOrderAndAllOfThemBeforeItEnds) {
  std::vector<int> done;
  {
    Lane lane;
    for (int i = 0; i < 1000; ++i) lane.add([&done, i] { done.push_back(i); });
  }
  std::vector<int> expected(1000);
  std::iota(expected.begin(), expected.end(), 0);
  EXPECT_EQ(done, expected);
}

TEST(Lane, TakesJobsFromItsOwnJobs) {
  std::atomic<int> done = 0;
  {
    auto lane = std::make_unique<Lane>();
    Lane* const same = lane.get();
    lane->add([&done, same] { same->add([&done] { ++done; }); });
  }
  EXPECT_EQ(done, 1);
}

}  // namespace
}  // namespace ligule::work
