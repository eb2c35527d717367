// The map of Review with more plots than fit: whole and small, and back to a part of it.
#include <gtest/gtest.h>

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "app/screens/screens.h"
#include "tests/app/screens/glass.h"
#include "tests/app/screens/sample_views.h"

namespace ligule::screens {
namespace {

using namespace tests;  // the samples of this folder

class WholeMap : public testing::TestWithParam<Device> {
 protected:
  const touch::Register& show(const flow::ReviewView& view) {
    return glass_.show([&](touch::Ui& ui) { draw(ui, english(), view, {}, scratch_, out_); });
  }
  void tap(std::string_view label, const flow::ReviewView& view) {
    glass_.tap(label, [&](touch::Ui& ui) { draw(ui, english(), view, {}, scratch_, out_); });
  }
  std::vector<std::string> tapped_in(std::string_view group) const {
    std::vector<std::string> labels;
    for (const touch::Widget& widget : glass_.seen().widgets)
      if (widget.group == group && touch::tappable(widget.kind) && touch::visible(widget))
        labels.push_back(widget.label);
    return labels;
  }

  Glass glass_{GetParam(), {}};
  Scratch scratch_;
  std::vector<flow::Intent> out_;
};

// Proves: a trial of 24 columns is seen whole with one tap, and a tap on its last part leads to the
// plots that lie there.
TEST_P(WholeMap, LeadsToThePartThatIsTapped) {
  const flow::ReviewView view = review_compared();
  const auto& map = std::get<flow::MapView>(view.page);
  const auto corner = std::ranges::find_if(map.cells, [&](const flow::MapCell& cell) {
    return cell.row == map.rows && cell.column == map.columns;
  });
  ASSERT_NE(corner, map.cells.end());
  show(view);
  EXPECT_GT(tapped_in("Review/Map").size(), 4U);
  EXPECT_TRUE(touch::find(glass_.seen(), "Map/" + corner->plot).empty());
  tap("Whole trial", view);
  show(view);
  EXPECT_TRUE(tapped_in("Review/Map").empty());
  EXPECT_TRUE(touch::shows(glass_.seen(), corner->plot)) << "a row's ends are named";
  const auto parts = tapped_in("Review/Whole trial");
  ASSERT_GT(parts.size(), 1U);
  tap("Whole trial/" + parts.back(), view);
  show(view);
  EXPECT_FALSE(touch::find(glass_.seen(), "Map/" + corner->plot).empty());
  EXPECT_TRUE(out_.empty()) << "looking changes nothing";
}

// Proves: a trial that fits has no use for it.
TEST_P(WholeMap, IsOfferedOnlyWhereTheMapScrolls) {
  flow::ReviewView view = review_compared();
  auto& map = std::get<flow::MapView>(view.page);
  map.rows = map.columns = 2;
  std::erase_if(map.cells,
                [](const flow::MapCell& cell) { return cell.row > 2 || cell.column > 2; });
  show(view);
  EXPECT_TRUE(touch::find(glass_.seen(), "Whole trial").empty());
}

INSTANTIATE_TEST_SUITE_P(Tablets, WholeMap, testing::ValuesIn(kDevices), [](const auto& tested) {
  std::string name(tested.param.name);
  std::ranges::replace(name, '-', '_');
  return name;
});

}  // namespace
}  // namespace ligule::screens
