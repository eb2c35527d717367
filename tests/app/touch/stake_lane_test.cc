// The lane of stakes: what shows of it, and what a tap names.
#include <gmock/gmock.h>

#include "tests/app/touch/bench_app.h"

namespace ligule::touch_test {
namespace {

using namespace ligule::touch;  // NOLINT: a test

TEST(StakeLane, PutsThePresentStakeInTheMiddleAndNamesTheTappedOne) {
  std::vector<std::string> numbers;
  for (int n = 0; n < 300; ++n) numbers.push_back(std::to_string(1001 + n));
  std::size_t present = 150;
  std::optional<std::size_t> tapped;
  Bench bench([&](Ui& ui) {
    std::vector<Stake> stakes;
    for (const std::string& number : numbers) stakes.push_back({number, Shape::kOpen, "open"});
    const Rect page = ui.page();
    const Rect rect{page.left, page.bottom - stake_lane_height(ui), page.right, page.bottom};
    if (const auto n = stake_lane(ui, "stakes", rect, stakes, present)) tapped = n;
  });
  EXPECT_NEAR(bench.middle_of("1151").x, 640, 3);
  bench.tap(bench.middle_of("1153"));
  EXPECT_EQ(tapped, 152U);
  present = 299;
  bench.app->changed = true;
  bench.settle();
  EXPECT_FALSE(find(bench.seen(), "1300").empty());
  // Only what shows is drawn.
  EXPECT_LT(bench.seen().widgets.size(), 30U);
}

// Proves: however little room a lane has, what can be tapped on it is whole, 12 mm and more, with
// its number; and the way back is there first.
TEST(StakeLane, ShowsWholeStakesOnlyAndTheOneBefore) {
  for (const bool large : {false, true})
    for (const double width : {16.5, 20.0, 30.0, 33.0, 45.0, 70.0, 160.0})
      for (const std::size_t present : {0UL, 1UL, 20UL, 39UL}) {
        std::vector<std::string> numbers;
        for (int n = 0; n < 40; ++n) numbers.push_back(std::to_string(201 + n));
        float from = 0;
        float to = 0;
        Bench bench([&](Ui& ui) {
          std::vector<Stake> stakes;
          for (const std::string& number : numbers)
            stakes.push_back({number, Shape::kOpen, "open"});
          const Rect rect{40, 100, 40 + ui.mm(width), 100 + ui.mm(14)};
          from = rect.left;
          to = rect.right;
          (void)stake_lane(ui, "stakes", rect, stakes, present);
        });
        bench.app->ui().set_look({.large_text = large});
        bench.app->changed = true;
        bench.settle();
        EXPECT_THAT(geometry_faults(bench.seen()), testing::IsEmpty()) << width;
        const double mm = 189 / 25.4;
        std::size_t shown = 0;
        for (const Widget& widget : bench.seen().widgets) {
          if (widget.kind != Kind::kStake) continue;
          ++shown;
          EXPECT_GE(static_cast<double>(widget.drawn.width()), 12 * mm) << width;
          EXPECT_GE(widget.drawn.left, from) << width;
          EXPECT_LE(widget.drawn.right, to) << width;
        }
        EXPECT_GE(shown, width < 30 ? 1U : 2U);
        const std::string before = numbers[present == 0 ? 0 : present - 1];
        std::string labels;
        for (const Widget& widget : bench.seen().widgets) labels += widget.label + " ";
        EXPECT_EQ(find(bench.seen(), before).size(), 1U)
            << width << " at " << present << " shows " << labels;
        if (width >= 30) {
          EXPECT_EQ(find(bench.seen(), numbers[present]).size(), 1U) << width;
        }
      }
}

}  // namespace
}  // namespace ligule::touch_test
