// How much ground a trial takes.
#pragma once

#include "storage/trial/plan.h"
#include "storage/trial/quantity.h"

namespace ligule {

// With alleys between rows of plots and the border around all, as a rectangle.
struct FieldGround {
  Metres width, depth;  // along rows of plots, and across them
  SquareMetres border;
};

// From the rows and columns of its plots. A size that the plan does not state, or that can't be
// read, counts as none.
[[nodiscard]] FieldGround ground_of(const Plan& plan);

}  // namespace ligule
