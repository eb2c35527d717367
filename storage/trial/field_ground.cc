#include "storage/trial/field_ground.h"

#include <algorithm>

namespace ligule {
namespace {

Metres metres_or_none(const StatedLength& length) {
  return length.metres().value_or(Metres(0));
}

}  // namespace

FieldGround ground_of(const Plan& plan) {
  int rows = 0;
  int columns = 0;
  for (const PlanPlot& plot : plan.plots) {
    rows = std::max(rows, plot.row);
    columns = std::max(columns, plot.column);
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
