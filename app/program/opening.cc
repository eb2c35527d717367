#include "app/program/opening.h"

#include <vector>

namespace ligule::program {

void Opening::draw(const platform::InputFrame& input) {
  std::vector<flow::Intent> nothing;
  ui_.begin(input, clock_.steady_ms());
  screens::draw(ui_, words_, flow::StartingView{}, {}, scratch_, nothing);
  ui_.end();
}

}  // namespace ligule::program
