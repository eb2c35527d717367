#include "app/program/threshold.h"

#include <utility>

namespace ligule::program {

Threshold::Threshold(touch::Ui& ui, const platform::Clock& clock, screens::BeforePage page)
    : ui_(ui), clock_(clock), page_(std::move(page)) {}

void Threshold::draw(const platform::InputFrame& input) {
  ui_.begin(input, clock_.steady_ms());
  if (const auto tapped = screens::draw_before(ui_, page_); tapped && !tapped_) tapped_ = tapped;
  ui_.end();
}

}  // namespace ligule::program
