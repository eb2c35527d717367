#include "storage/checks/exchanged.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>

#include "tests/storage/checks/weighed_cutting.h"

namespace ligule::checks {
namespace {

using ::testing::Contains;
using ::testing::ElementsAre;
using ::testing::IsEmpty;
using ::testing::Not;

// Places of pairs that are named in a whole cutting.
std::vector<std::size_t> named(const WeighedPath& path) {
  std::vector<std::size_t> pairs = neighbours_apart(path);
  drop_unlikely(path, pairs);
  std::erase_if(pairs, [&](std::size_t first) { return !probably_exchanged(path, first); });
  return pairs;
}

void swap_weights(WeighedPath& path, std::size_t first) {
  std::swap(path.at(first)->net, path.at(first + 1)->net);
}

// Three blocks of four entries that add up but for 0.1 or 0.2.
WeighedPath regular() {
  WeighedPath path;
  const std::vector<std::string> entries{"A", "B", "C", "D"};
  const std::vector<double> nets{10, 17, 14, 11};
  for (int block = 1; block <= 3; ++block)
    for (std::size_t n = 0; n < 4; ++n) {
      const std::size_t entry = (n + static_cast<std::size_t>(block)) % 4;
      path.emplace_back(WeighedPlot{block, entries[entry],
                                    nets[entry] + 2 * block + 0.1 * static_cast<double>(n % 2)});
    }
  return path;
}

TEST(Exchanged, NeighboursThatFitEachOtherAreNamed) {
  WeighedPath path = regular();
  EXPECT_THAT(named(path), IsEmpty());
  swap_weights(path, 6);
  EXPECT_THAT(named(path), ElementsAre(6));
}

TEST(Exchanged, NeighboursThatWeighAlikeAreNot) {
  WeighedPath path = regular();
  path.at(5)->net = 14.9;
  path.at(6)->net = 14.3;
  EXPECT_THAT(neighbours_apart(path), Not(Contains(5U)));
}

TEST(Exchanged, OneBadWeightIsNoExchange) {
  WeighedPath path = regular();
  path.at(5)->net *= 2;
  EXPECT_THAT(named(path), IsEmpty());
}

TEST(Exchanged, APlotWithoutAWeightHasNoNeighbour) {
  WeighedPath path = regular();
  swap_weights(path, 6);
  path.at(7).reset();
  EXPECT_THAT(named(path), IsEmpty());
  EXPECT_FALSE(probably_exchanged(path, 6));
}

// Proves: the rates the header states. Slack is for the 60 cuttings a line.
TEST(Exchanged, IsNamedAsOftenAsIsSaid) {
  struct Line {
    tests::Chance chance;
    double most_false;   // cuttings with a pair named though nothing is wrong
    double least_found;  // of exchanged pairs that weigh a third and more apart
  };
  std::mt19937 random(2026);
  for (const Line& line : {Line{{24, 4, 0.06}, 0.05, 0.7}, Line{{24, 4, 0.1}, 0.08, 0.35},
                           Line{{24, 4, 0.15}, 0.12, 0}, Line{{12, 4, 0.1}, 0.08, 0.25}}) {
    constexpr int kCuttings = 60;
    int wrong = 0;
    int exchanged = 0;
    int found = 0;
    for (int n = 0; n < kCuttings; ++n) {
      WeighedPath path = tests::weighed_cutting(line.chance, random);
      wrong += named(path).empty() ? 0 : 1;
      for (std::size_t first = 0; first + 1 < path.size(); ++first) {
        const double a = path[first]->net;
        const double b = path[first + 1]->net;
        if (std::fabs(a - b) < std::max(a, b) / 3) continue;
        swap_weights(path, first);
        ++exchanged;
        std::vector<std::size_t> pair{first};
        drop_unlikely(path, pair);
        found += !pair.empty() && probably_exchanged(path, first) ? 1 : 0;
        swap_weights(path, first);
      }
    }
    EXPECT_LE(wrong, line.most_false * kCuttings) << line.chance.cv;
    EXPECT_GE(found, line.least_found * exchanged) << line.chance.cv << " of " << exchanged;
  }
}

}  // namespace
}  // namespace ligule::checks
