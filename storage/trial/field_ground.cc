#include "storage/trial/field_ground.h"

#include <algorithm>

namespace ligule {
namespace {

Metres metres_or_none(const StatedLength& length) {
  return length.metres().value_or(Metres(0));
}

}  // namespace

FieldGround ground_of(const Plan& plan) {
  // Rows and columns are those of the field, which may hold other trials before this one.
  int rows = 0;
  int columns = 0;
  if (!plan.plots.empty()) {
    const auto [front, back] = std::ranges::minmax(plan.plots, {}, &PlanPlot::row);
    const auto [left, right] = std::ranges::minmax(plan.plots, {}, &PlanPlot::column);
    rows = back.row - front.row + 1;
    columns = right.column - left.column + 1;
  }
  const Metres alleys = metres_or_none(plan.alley) * std::max(0, rows - 1);
  const Metres depth = metres_or_none(plan.plot_length) * rows + alleys;
  const Metres width = metres_or_none(plan.plot_width) * columns;
  const Metres both_sides = metres_or_none(plan.border) * 2;
  FieldGround ground{width + both_sides, depth + both_sides, {}};
  ground.border = area(ground.depth, ground.width) - area(depth, width);
  return ground;
}

}  // namespace ligule
